#include "winkhold/base/statistics/binomial.hpp"

#include "winkhold/base/statistics/detail/quantiles.hpp"

#include <cmath>

namespace winkhold::base {

double upper95(std::int64_t count, std::int64_t tries) {
    return tries <= 0 ? 1 : binomial_upper(count, tries, 0.05);
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
