/// The clock that the decoder is fed from. It says nothing about the lines.
#pragma once

#include "winkhold/base/range.hpp"
#include "winkhold/base/time.hpp"

namespace winkhold::measure {

/// Drawn each ride unless said otherwise.
struct ClockModel {
    bool wraps{false};
    Range before_wrap_us{0};  ///< if it wraps: the ride starts this long before the 32-bit count does
    Range fast_percent{0};    ///< the clock runs this much fast
    Range reset_at_us{0};     ///< the board restarts, and its count with it; 0: never
    TimeUs tick_us{1};        ///< the clock counts in steps of this
    Range error_us{0};        ///< each reading is off by this, drawn anew; the count never goes back
    TimeUs wakes_early_us{0}; ///< a timer comes this much before it is due, and then once more
};

} // namespace winkhold::measure
