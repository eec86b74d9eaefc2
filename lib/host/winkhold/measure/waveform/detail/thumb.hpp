/// What the rider's thumb does beside what it should.
#pragma once

#include "winkhold/measure/waveform/random.hpp"
#include "winkhold/measure/waveform/ride.hpp"

namespace winkhold::measure {

/// Adds the first presses, which it returns, and lets their requests begin with them.
std::vector<Light> fumble(const Fumble& model, RandomStream& random, Truth& truth,
                          std::vector<Light>& lights);

/// Adds the lights of touches, which it returns; the truth knows nothing of them.
std::vector<Light> touch(const Touch& model, RandomStream& random, const Truth& truth,
                         std::vector<Light>& lights);

} // namespace winkhold::measure
