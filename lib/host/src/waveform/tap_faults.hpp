/// Spoils a tap's clean level changes as TapFaults says.
#pragma once

#include "winkhold/host/waveform/random.hpp"
#include "winkhold/host/waveform/ride.hpp"

namespace winkhold::host {

/// Works on both taps' changes, in order of time from low, up to `end_us`.
void spoil_taps(const TapFaults& faults, TimeUs end_us, RandomStream& random,
                std::vector<LevelChange> (&taps)[2]);

} // namespace winkhold::host
