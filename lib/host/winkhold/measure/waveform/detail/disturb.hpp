/// Disturbances, flash by flash.
#pragma once

#include "winkhold/measure/waveform/detail/levels.hpp"
#include "winkhold/measure/waveform/disturbance.hpp"
#include "winkhold/measure/waveform/random.hpp"

namespace winkhold::measure {

/// Works on both taps' changes. `lights` are in order of time; those outside of requests are left alone.
void disturb(const std::vector<Disturbance>& disturbances, const Truth& truth,
             const std::vector<Light>& lights, RandomStream& random, Levels (&taps)[2]);

} // namespace winkhold::measure
