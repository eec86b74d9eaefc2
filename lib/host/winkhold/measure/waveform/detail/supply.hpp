/// What the supply and the ignition do during one ride.
#pragma once

#include "winkhold/measure/waveform/line_volts.hpp"

#include "winkhold/measure/waveform/detail/draw.hpp"

#include <vector>

namespace winkhold::measure {

/// The supply's voltage from `t_us` on.
struct SupplyStep {
    double t_us;
    double volts;
};

/// When somebody turns the key off: truth and lines must agree on it, so it is drawn first. 0: never.
TimeUs draw_key_off_us(const LineVolts& model, RandomStream& random);

/// Steps in order of time, the first one at 0: dips, a crank, and nothing after the key is off.
std::vector<SupplyStep> draw_supply(const LineVolts& model, TimeUs key_off_us, TimeUs end_us,
                                    RandomStream& random);

} // namespace winkhold::measure
