#include "fuzz/reading.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    fuzz::read_recording(data, size, {.sample_rate_hz = 1'000});
    fuzz::read_recording(data, size, {.left = "7", .right = "3", .active_high = false, .sample_rate_hz = 1});
    return 0;
}
