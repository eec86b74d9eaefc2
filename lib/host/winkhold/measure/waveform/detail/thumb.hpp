/// What the rider's thumb does beside what it should.
#pragma once

#include "winkhold/measure/waveform/random.hpp"
#include "winkhold/measure/waveform/ride.hpp"

namespace winkhold::measure {

/// Adds the first presses, and lets their requests begin with them.
void fumble(const Fumble& model, RandomStream& random, Truth& truth, std::vector<Light>& lights);

/// Adds the lights of touches; the truth knows nothing of them.
void touch(const Touch& model, RandomStream& random, const Truth& truth, std::vector<Light>& lights);

} // namespace winkhold::measure
