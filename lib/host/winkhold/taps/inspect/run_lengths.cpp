#include "winkhold/taps/inspect/run_lengths.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::taps {

void RunLengths::add(TimeUs us) {
    const double length_us = static_cast<double>(std::max<TimeUs>(us, 1));
    const int at = std::min(static_cast<int>(std::log2(length_us) * per_octave), classes - 1);
    Class& one = seen_[static_cast<std::size_t>(at)];
    ++one.count;
    one.sum_us += length_us;
    ++count_;
    sum_us_ += length_us;
}

double RunLengths::quantile_us(double share) const {
    if (count_ == 0) return 0;
    const auto rank =
        std::max<std::int64_t>(1, static_cast<std::int64_t>(std::ceil(share * static_cast<double>(count_))));
    std::int64_t before = 0;
    int at = 0;
    while (before + seen_[static_cast<std::size_t>(at)].count < rank)
        before += seen_[static_cast<std::size_t>(at++)].count;
    Class near;
    for (int i = std::max(0, at - 1); i <= std::min(classes - 1, at + 1); ++i) {
        near.count += seen_[static_cast<std::size_t>(i)].count;
        near.sum_us += seen_[static_cast<std::size_t>(i)].sum_us;
    }
    return near.sum_us / static_cast<double>(near.count);
}

double RunLengths::share_near(double us, double off_us) const {
    std::int64_t near = 0;
    for (const Class& one : seen_)
        if (one.count > 0 && std::abs(one.sum_us / static_cast<double>(one.count) - us) <= off_us)
            near += one.count;
    return count_ == 0 ? 0 : static_cast<double>(near) / static_cast<double>(count_);
}

} // namespace winkhold::taps
