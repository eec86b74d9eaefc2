#include "winkhold/base/statistics/summary.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

namespace winkhold::base {

std::int64_t nearest_rank(double q, std::int64_t count) {
    // 1e-9: 0.95 * 100 must not become place 96
    const auto rank = static_cast<std::int64_t>(std::ceil(q * static_cast<double>(count) - 1e-9));
    return std::max<std::int64_t>(rank, 1);
}

Summary summarise(std::vector<std::int32_t>& values_us) {
    Summary summary;
    const auto n = static_cast<std::int64_t>(values_us.size());
    if (n == 0) return summary;
    const Eigen::Map<const Eigen::Array<std::int32_t, Eigen::Dynamic, 1>> values(values_us.data(), n);
    summary.count = n;
    summary.mean_us = static_cast<double>(values.cast<std::int64_t>().sum()) / static_cast<double>(n);
    summary.max_us = values.maxCoeff();
    if (values.minCoeff() == summary.max_us) {
        summary.p50_us = summary.p95_us = summary.p99_us = summary.max_us;
        return summary;
    }
    auto unsorted_from = values_us.begin();
    const auto quantile = [&](double q) -> TimeUs {
        const auto place = values_us.begin() + (nearest_rank(q, n) - 1);
        if (place < unsorted_from) return *place; // already in place
        std::nth_element(unsorted_from, place, values_us.end());
        unsorted_from = place;
        return *place;
    };
    summary.p50_us = quantile(0.50);
    summary.p95_us = quantile(0.95);
    summary.p99_us = quantile(0.99);
    return summary;
}

Summary summarise(const std::vector<TimeUs>& values_us) {
    std::vector<std::int32_t> narrow(values_us.begin(), values_us.end());
    return summarise(narrow);
}

} // namespace winkhold::base
