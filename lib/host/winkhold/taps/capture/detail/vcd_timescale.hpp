/// How long a tick of a VCD file is.
#pragma once

#include "winkhold/base/time.hpp"

#include <cstdint>
#include <string_view>

namespace winkhold::taps::capture {

class VcdTimescale {
public:
    /// Reads 1, 10 or 100 and a unit from s to fs, such as "10ns". Throws Complaint for anything else.
    explicit VcdTimescale(std::string_view text);

    /// The moment `ticks` from 0, rounded down to whole microseconds; later than latest_us if out of range.
    TimeUs to_us(std::uint64_t ticks) const {
        const std::uint64_t units = ticks_per_us_ == 1 ? ticks : ticks / ticks_per_us_; // dividing is slow
        return units > most_units_ ? latest_us + 1 : static_cast<TimeUs>(units * us_per_tick_);
    }

private:
    // One of them is 1.
    std::uint64_t us_per_tick_{1};
    std::uint64_t ticks_per_us_{1};
    std::uint64_t most_units_{0}; // up to latest_us
};

} // namespace winkhold::taps::capture
