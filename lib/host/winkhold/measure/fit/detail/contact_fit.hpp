/// How contacts bounce and how far the sides of a hazard are apart.
#pragma once

#include "winkhold/measure/fit/fit.hpp"

#include <vector>

namespace winkhold::measure {

/// Each change at time t, the j-th of 2k, says t 2k/(j + 1) <= bounce <= t 2k/j: all together leave a narrow
/// interval. Without a bounce that agrees with all of them: from the longest settling time of n, for a
/// uniform spread, up to 0.05^(-1/n) times it. Rises of chopped lines say nothing; without rises all is 0.
BounceFit fit_bounce(const Inspection& seen);

/// With R the range seen, the true end lies beyond the one seen by more than x R with probability
/// (1 + x)^-(n - 1): the ratio of spacings of n uniform figures (derived). None for fewer than three figures.
/// `step_us`: the recording's clock.
std::optional<SkewFit> fit_skew(const std::vector<TimeUs>& figures_us, double step_us);

} // namespace winkhold::measure
