/// What the flasher does with its rhythm when the rider changes sides.
#pragma once

#include "winkhold/host/fit/bursts.hpp"
#include "winkhold/host/fit/rhythm_fit.hpp"
#include "winkhold/host/waveform/scenario.hpp"

namespace winkhold::host {

struct SideChangeFit {
    std::int64_t changes{0};         ///< from side to side without a rest
    std::array<double, 3> chance{};  ///< of each SideChange, given what was seen and equal chances before
    std::optional<SideChange> model; ///< if one has 95 % and a side change was recorded
    std::int64_t cut{0};             ///< changes that cut a light: they show the switch's travel
    double dark_least_us{0};         ///< last fall to first rise of these; start delay included
    double dark_most_us{0};
};

/// Weighs three explanations of each burst's first and last light, and of where the new side's rhythm stands
/// in the old one's. A light is cut (any length below the whole, evenly) if the switch may cut it there: the
/// last one under restart and free-running, the first one under free-running; else it is whole. The phase of
/// a free-running rhythm goes on across the change; a whole cycle leaves at least a whole dark gap; else the
/// phase is any. One in fifty figures is anything at all (common practice, no source).
SideChangeFit fit_side_change(const std::vector<Burst>& bursts, const RhythmFit& rhythm, double step_us);

} // namespace winkhold::host
