/// A line's lights without what noise did to them.
#pragma once

#include "winkhold/taps/inspect/light_finder.hpp"

namespace winkhold::taps {

/// Levels shorter than this are no flash and no dark phase of one, where the lights are otherwise longer: a
/// lamp that is out still flashes for 80 ms and is dark for 72 (250/min at 70 %, derived). Unit: us.
inline constexpr TimeUs short_level_us = 60'000;

struct Mended {
    std::vector<SeenLight> lights;
    std::vector<SeenLight> pulses; ///< lights taken out
    std::vector<TimeUs> breaks_us; ///< when the gaps that were closed began
};

/// Joins lights across gaps below `short_level_us`, and across longer ones below half of a usual gap if the
/// light that comes of it is as long as usual. Takes out those that are shorter than `short_level_us`. On a
/// line whose long lights (nine in ten are shorter), or long gaps, are less than twice that, the limit is
/// half of them. If most lights have a pulse right ahead of them, it belongs to them: the relay strikes
/// twice. Lights that the recording cuts stay.
///
/// `mended` are then all lights that have been joined, that have a pulse next to them, or whose edges take
/// more than twice as long to settle as four in five of the line do, and 3 ms on top; of `chopped` lights
/// only the joined ones and those next to a pulse, since their pauses look like breaks and bounce.
Mended mend(std::vector<SeenLight> lights, bool chopped);

} // namespace winkhold::taps
