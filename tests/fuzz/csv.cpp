#include "fuzz/reading.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    fuzz::read_recording(data, size, {});
    fuzz::read_recording(data, size, {.right = "none", .active_high = false, .decimal_comma = true});
    fuzz::read_recording(data, size, {.left = "CH1", .right = "CH2"});
    fuzz::read_recording(data, size, {.left = "D0", .right = "1", .time_unit = "ms"});
    return 0;
}
