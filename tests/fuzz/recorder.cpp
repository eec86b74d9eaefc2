#include "fuzz/reading.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    fuzz::read_recording(data, size, {});
    fuzz::read_recording(data, size, {.left = "tail", .active_high = false});
    return 0;
}
