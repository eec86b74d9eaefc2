/// Levels -> volts -> levels: what the supply, the wiring and the input stage make of them.
#pragma once

#include "winkhold/measure/waveform/detail/supply.hpp"
#include "winkhold/measure/waveform/ride.hpp"

namespace winkhold::measure {

/// What the taps read, a list of changes (from low) each.
struct TapChanges {
    std::vector<LevelChange>& left;
    std::vector<LevelChange>& right;
    std::vector<LevelChange>& supply;
    std::vector<LevelChange> (&brakes)[2]; ///< lever's and pedal's switch
    std::vector<LevelChange>& tail;        ///< lit all along, or empty
};

/// Replaces each tap's ideal changes (its line is driven or not) by what the input stage reads, and fills the
/// supply's. Both brake switches feed one line, brakes[0], unless [front_end] has a tap for the second.
void read_volts(const LineVolts& model, TimeUs key_off_us, TimeUs end_us, RandomStream& random,
                const TapChanges& taps);

/// High while either is.
std::vector<LevelChange> either(const std::vector<LevelChange>& one, const std::vector<LevelChange>& other);

} // namespace winkhold::measure
