/// The time of a sample, where a recording gives its rate and no times.
#pragma once

#include "winkhold/taps/capture/detail/decimal.hpp"

#include <algorithm>
#include <optional>
#include <string_view>

namespace winkhold::taps::capture {

/// Counts samples from 0.
class SampleClock {
public:
    /// `interval`: seconds between samples. Nothing for 0 and for what no clock could be.
    static std::optional<SampleClock> of_interval(Decimal interval);
    static std::optional<SampleClock> of_rate(Decimal hz);

    /// Rounded down to 1 us; later than latest_us if out of range.
    TimeUs at_us(std::uint64_t sample) const {
        constexpr std::uint64_t few = std::uint64_t{1} << 32;
        const bool is_whole = denominator_ == 1 && sample < few && numerator_ < few / 2;
        if (!is_whole) return at_us_of_fraction(sample);
        return std::min(static_cast<TimeUs>(sample * numerator_), latest_us + 1);
    }

private:
    TimeUs at_us_of_fraction(std::uint64_t sample) const;

    SampleClock(std::uint64_t numerator, std::uint64_t denominator)
        : numerator_(numerator), denominator_(denominator) {}

    // Microseconds a sample.
    std::uint64_t numerator_;
    std::uint64_t denominator_;
};

/// The clock that a line such as "Samplerate: 1 kHz" or "Sample Interval: 1e-3" tells of, if it does.
std::optional<SampleClock> read_clock(std::string_view key, std::string_view value);

} // namespace winkhold::taps::capture
