/// Does the rhythm change over the recording?
#pragma once

#include "winkhold/taps/inspect/inspect.hpp"

namespace winkhold::taps {

struct TrendPoint {
    double at_min;
    double length_us;
};

/// Least squares of length over time, as a share of the mean length; 95 % interval from Student's t with n -
/// 2 degrees of freedom. None for fewer than five points or if they all lie at one moment.
std::optional<Drift> drift_of(const std::vector<TrendPoint>& points);

} // namespace winkhold::taps
