#include "fuzz/reading.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    fuzz::read_recording(data, size, {});
    fuzz::read_recording(data, size, {.right = "none", .active_high = false, .decimal_comma = true});
    return 0;
}
