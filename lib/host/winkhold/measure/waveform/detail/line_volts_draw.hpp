/// Levels -> volts -> levels: what the supply, the wiring and the input stage make of them.
#pragma once

#include "winkhold/measure/waveform/detail/supply.hpp"
#include "winkhold/measure/waveform/ride.hpp"

namespace winkhold::measure {

/// Replaces both taps' ideal changes (lamp driven or not, from not) by what the input stage reads, and fills
/// the supply's.
void read_volts(const LineVolts& model, TimeUs key_off_us, TimeUs end_us, RandomStream& random,
                std::vector<LevelChange> (&taps)[2], std::vector<LevelChange>& supply);

} // namespace winkhold::measure
