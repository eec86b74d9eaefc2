#include "winkhold/measure/front_end/input_network.hpp"

#include <cmath>

namespace winkhold::measure {

LowPass low_pass(const InputNetwork& network, double source_ohm) {
    const double bottom_ohm = network.bottom_ohm;
    if (std::isinf(source_ohm)) return {0, bottom_ohm * network.capacitor_f * 1e6};
    const double top_ohm = network.top_ohm + source_ohm;
    const double gain = bottom_ohm / (top_ohm + bottom_ohm);
    return {gain, top_ohm * gain * network.capacitor_f * 1e6};
}

double crossing_us(const LowPass& low_pass, double source_v, double from_v, double at_v) {
    const double goal_v = low_pass.gain * source_v;
    if (from_v == at_v) return 0;
    if ((goal_v - at_v) * (at_v - from_v) <= 0) return std::numeric_limits<double>::infinity();
    return low_pass.tau_us * std::log((goal_v - from_v) / (goal_v - at_v));
}

} // namespace winkhold::measure
