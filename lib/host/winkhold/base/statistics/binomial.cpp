#include "winkhold/base/statistics/binomial.hpp"

#include <boost/math/distributions/binomial.hpp>
#include <cmath>

namespace winkhold::base {

double upper95(std::int64_t count, std::int64_t tries) {
    if (tries <= 0 || count >= tries) return 1;
    return boost::math::binomial_distribution<>::find_upper_bound_on_p(static_cast<double>(tries),
                                                                       static_cast<double>(count), 0.05);
}

std::int64_t most_hits(double target, std::int64_t tries) {
    if (upper95(0, tries) > target) return -1;
    std::int64_t good = 0;
    std::int64_t bad = tries;
    while (bad - good > 1) {
        const std::int64_t middle = good + (bad - good) / 2;
        (upper95(middle, tries) <= target ? good : bad) = middle;
    }
    return good;
}

std::int64_t fewest_tries(double target) {
    // without a hit the bound is 1 - 0.05^(1/n)
    return static_cast<std::int64_t>(std::ceil(std::log(0.05) / std::log1p(-target)));
}

} // namespace winkhold::base
