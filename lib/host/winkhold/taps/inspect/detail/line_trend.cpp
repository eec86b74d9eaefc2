#include "winkhold/taps/inspect/detail/line_trend.hpp"

#include "winkhold/base/statistics/detail/quantiles.hpp"

#include <Eigen/Core>

namespace winkhold::taps {

std::optional<Drift> drift_of(const std::vector<TrendPoint>& points) {
    const auto n = static_cast<Eigen::Index>(points.size());
    if (n < 5) return std::nullopt;
    Eigen::ArrayXd t(n), y(n);
    for (Eigen::Index i = 0; i < n; ++i) {
        t(i) = points[static_cast<std::size_t>(i)].at_min;
        y(i) = points[static_cast<std::size_t>(i)].length_us;
    }
    const double mean = y.mean();
    const Eigen::ArrayXd from_middle = t - t.mean();
    const double spread = from_middle.square().sum();
    if (spread <= 0) return std::nullopt;
    const double slope = (from_middle * y).sum() / spread;
    const auto degrees = static_cast<double>(n - 2);
    const double rest = (y - mean - slope * from_middle).square().sum() / degrees;
    const double margin = t_quantile(degrees, 0.975) * std::sqrt(rest / spread);
    const double to_percent = 100 / mean;
    return Drift{slope * to_percent, (slope - margin) * to_percent, (slope + margin) * to_percent};
}

} // namespace winkhold::taps
