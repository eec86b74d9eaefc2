/// Spoils a tap's clean level changes as TapFaults says.
#pragma once

#include "winkhold/measure/waveform/random.hpp"
#include "winkhold/measure/waveform/ride.hpp"

namespace winkhold::measure {

/// Works on both taps' changes, in order of time from low, up to `end_us`.
void spoil_taps(const TapFaults& faults, TimeUs end_us, RandomStream& random,
                std::vector<LevelChange> (&taps)[2]);

} // namespace winkhold::measure
