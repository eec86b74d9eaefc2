/// How large a ride may become, before it is made.
#pragma once

#include "winkhold/measure/waveform/scenario.hpp"

namespace winkhold::measure {

inline constexpr double most_edges = 20e6; // half a gigabyte

struct RideSize {
    double edges{0};   ///< level changes of both lines, at most
    std::string field; ///< what makes most of them, like "lines.pwm_hz"
};

/// From the ranges' ends; what is drawn is less.
RideSize size_of(const Scenario& scenario);

} // namespace winkhold::measure
