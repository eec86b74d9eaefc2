/// First pass of the reference decoder: from raw edges to the settled on phases of one line.
#pragma once

#include "winkhold/core/lines.hpp"
#include "winkhold/core/settings.hpp"
#include "winkhold/taps/trace/trace.hpp"

#include <limits>
#include <vector>

namespace winkhold::reference {

using host::TimeUs;

constexpr TimeUs never_us = std::numeric_limits<TimeUs>::max() / 4;

// The figures of lib/core/README.md, said again here: a change of the core's limits must show as a
// difference.
constexpr TimeUs longest_gap_us = 1'000'000; ///< a longer gap is silence; also the longest that counts as lit
constexpr TimeUs longest_on_us = 3'000'000;  ///< a line on for longer is stuck
constexpr TimeUs blink_us = 40'000;          ///< dark for less: the light goes on; lit for less: no flash
constexpr TimeUs lone_flash_us = 250'000;    ///< a flash of one side alone for this long: no hazard

/// A tap reads high from `from_us` to before `to_us`; never_us if to the end of the trace.
struct Stretch {
    TimeUs from_us{0};
    TimeUs to_us{0};
};

/// A line counts as on from `rise_us` to before `fall_us`.
struct OnPhase {
    TimeUs rise_us{0};      ///< when the rise settled
    TimeUs fall_us{0};      ///< when the fall settled
    TimeUs last_high_us{0}; ///< when the line last read high; the fall settles later
};

std::vector<Stretch> stretches(const host::Trace& trace, core::Lines::Tap tap);

/// A level counts once it has stood for settle; lows shorter than the PWM gap belong to the on phase.
std::vector<OnPhase> settled(const std::vector<Stretch>& stretches, const core::Settings& settings);

} // namespace winkhold::reference
