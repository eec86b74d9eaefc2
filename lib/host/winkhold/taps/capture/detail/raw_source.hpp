/// Edges from raw logic samples, one byte each.
#pragma once

#include "winkhold/taps/capture/detail/input_file.hpp"
#include "winkhold/taps/capture/detail/taps.hpp"

#include <array>
#include <memory>

namespace winkhold::taps::capture {

/// Sample number i holds from i / rate on, rounded down to 1 us. The first sample is an edge, then every one
/// in which the bit of a tap is another.
class RawSource : public EdgeSource {
public:
    /// `options.sample_rate_hz` is set. `file` names the input in errors.
    RawSource(std::string file, std::unique_ptr<InputFile> input, const RecordingOptions& options);

    bool next(Edge& edge) override;
    TimeUs end_us() const override { return time_us(begin_ + filled_ - 1); }

private:
    bool refill();
    TimeUs time_us(std::int64_t sample) const;

    std::string file_;
    std::unique_ptr<InputFile> input_;
    std::int64_t rate_hz_;
    std::uint8_t mask_{0};              // the bits of taps
    std::array<Lines, 256> lines_of_{}; // what each byte says

    std::unique_ptr<std::uint8_t[]> buffer_;
    std::int64_t begin_{0};  // number of the sample at the buffer's front
    std::int64_t filled_{0}; // samples in the buffer
    std::int64_t at_{0};     // of those, looked at
    bool has_edge_{false};
    std::uint8_t level_{0}; // bits of the latest edge
};

} // namespace winkhold::taps::capture
