/// What the flasher does with its rhythm when the rider changes sides.
#pragma once

#include "winkhold/measure/fit/detail/bursts.hpp"
#include "winkhold/measure/fit/fit.hpp"

namespace winkhold::measure {

/// Weighs three explanations of each burst's first and last light, and of where the new side's rhythm stands
/// in the old one's. A light is cut (any length below the whole, evenly) if the switch may cut it there: the
/// last one under restart and free-running, the first one under free-running; else it is whole. The phase of
/// a free-running rhythm goes on across the change; a whole cycle leaves at least a whole dark gap; else the
/// phase is any. One in fifty figures is anything at all (common practice, no source).
SideChangeFit fit_side_change(const std::vector<Burst>& bursts, const RhythmFit& rhythm, double step_us);

} // namespace winkhold::measure
