/// How contacts bounce and how far the sides of a hazard are apart.
#pragma once

#include "winkhold/host/fit/estimate.hpp"
#include "winkhold/host/inspect/inspect.hpp"

namespace winkhold::host {

/// Bounce as a scenario has it: on closing 1 to `pulses` false pulses cut the time `bounce` into equal slots,
/// and each change falls into its slot.
struct BounceFit {
    std::int64_t rises{0};
    Estimate bounce_us;
    Estimate pulses;
    bool like_model{
        true}; ///< false: no bounce time explains all rises; the interval then rests on the worst one
};

/// Each change at time t, the j-th of 2k, says t 2k/(j + 1) <= bounce <= t 2k/j: all together leave a narrow
/// interval. Without a bounce that agrees with all of them: from the longest settling time of n, for a
/// uniform spread, up to 0.05^(-1/n) times it. Rises of chopped lines say nothing; without rises all is 0.
BounceFit fit_bounce(const Inspection& seen);

/// A uniform range from its least and its most figure among n.
struct SkewFit {
    std::int64_t flashes{0};
    Estimate least_us;
    Estimate most_us;
};

/// With R the range seen, the true end lies beyond the one seen by more than x R with probability
/// (1 + x)^-(n - 1): the ratio of spacings of n uniform figures (derived). None for fewer than three figures.
/// `step_us`: the recording's clock.
std::optional<SkewFit> fit_skew(const std::vector<TimeUs>& figures_us, double step_us);

} // namespace winkhold::host
