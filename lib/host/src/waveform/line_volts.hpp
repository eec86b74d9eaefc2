/// Levels -> volts -> levels: what the supply, the wiring and the input stage make of them.
#pragma once

#include "waveform/supply.hpp"
#include "winkhold/host/waveform/ride.hpp"

namespace winkhold::host {

/// Replaces both taps' ideal changes (lamp driven or not, from not) by what the input stage reads, and fills
/// the supply's.
void read_volts(const LineVolts& model, TimeUs key_off_us, TimeUs end_us, RandomStream& random,
                std::vector<LevelChange> (&taps)[2], std::vector<LevelChange>& supply);

} // namespace winkhold::host
