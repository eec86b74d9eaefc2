/// From the 12 V line to the pin: top resistor, bottom resistor with a capacitor and perhaps a clamp beside
/// it.
#pragma once

#include "winkhold/base/wings.hpp"

#include <limits>

namespace winkhold::measure {

/// What divider and capacitor make of a source u: v' = (gain u - v) / tau.
struct LowPass {
    double gain{1};
    double tau_us{0}; ///< 0: follows at once
};

/// One channel with its parts as they happen to be.
struct InputNetwork {
    double top_ohm{100e3};
    double bottom_ohm{51e3};
    double capacitor_f{0};
    double clamp_v{std::numeric_limits<double>::infinity()}; ///< infinity: none
    double rise_v{0};                                        ///< at the pin: reads high above this
    double fall_v{0};                                        ///< and low below this
};

/// The network fed through `source_ohm`: k = R2 / (R1 + R2), tau = (R1 || R2) C, the source's resistance
/// being part of R1. An infinite one (the line is let go and nothing holds it): 0 and R2 C.
LowPass low_pass(const InputNetwork& network, double source_ohm = 0);

/// From a step of the source until the pin is at `at_v`: tau ln((goal - from) / (goal - at)), `from_v` being
/// where it starts; infinity if it never gets there.
double crossing_us(const LowPass& low_pass, double source_v, double from_v, double at_v);

} // namespace winkhold::measure
