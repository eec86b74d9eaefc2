#include "winkhold/measure/sweep/detail/rising_figures.hpp"

#include "winkhold/measure/sweep/detail/radix_sort.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace winkhold::measure {

RisingFigures::RisingFigures(const FigureResponse& response) : response_(response) {
    const std::size_t n = response.offsets_us().size();
    rising_.reserve(n);
    for (std::size_t i = 0; i < n; ++i)
        rising_.push_back({response.offsets_us()[i], response.ceilings_us()[i]});
    radix_sort(rising_, [](const Ramp& ramp) { return std::int64_t{ramp.offset_us}; });
    first_ = n;
}

void RisingFigures::top_out(std::int32_t value_us) {
    std::vector<std::int32_t> topped_us;
    std::size_t kept = 0;
    std::size_t first = 0;
    offsets_sum_us_ = 0;
    next_topping_us_ = never_topping_us;
    for (std::size_t i = 0; i < rising_.size(); ++i) {
        const Ramp ramp = rising_[i];
        const std::int64_t tops_at_us = std::int64_t{ramp.ceiling_us} - ramp.offset_us;
        if (tops_at_us <= value_us) {
            topped_us.push_back(std::max(0, ramp.ceiling_us));
            continue;
        }
        next_topping_us_ = std::min(next_topping_us_, tops_at_us);
        if (i < first_)
            ++first;
        else
            offsets_sum_us_ += ramp.offset_us;
        rising_[kept++] = ramp;
    }
    rising_.resize(kept);
    first_ = first;
    radix_sort(topped_us);
    topped_sum_us_ = std::accumulate(topped_us.begin(), topped_us.end(), topped_sum_us_);
    const auto middle = static_cast<std::ptrdiff_t>(topped_us_.size());
    topped_us_.insert(topped_us_.end(), topped_us.begin(), topped_us.end());
    std::inplace_merge(topped_us_.begin(), topped_us_.begin() + middle, topped_us_.end());
}

std::int64_t RisingFigures::count_up_to(std::int32_t figure_us, std::int32_t value_us) const {
    const auto up_to = [figure_us](const std::vector<std::int32_t>& sorted) {
        return std::upper_bound(sorted.begin(), sorted.end(), figure_us) - sorted.begin();
    };
    const auto rising = std::upper_bound(
        rising_.begin() + static_cast<std::ptrdiff_t>(first_), rising_.end(), figure_us - value_us,
        [](std::int32_t offset_us, const Ramp& ramp) { return offset_us < ramp.offset_us; });
    return (rising - rising_.begin()) + up_to(topped_us_) + up_to(pieced_us_);
}

Summary RisingFigures::at(TimeUs swept_us) {
    const auto value_us = static_cast<std::int32_t>(swept_us);
    if (value_us >= next_topping_us_) top_out(value_us);
    while (first_ > 0 && value_us + rising_[first_ - 1].offset_us > 0)
        offsets_sum_us_ += rising_[--first_].offset_us;
    if (rising_.empty() && settled_ && !response_.any_pieced()) return last_; // nothing moves any more
    response_.evaluate_pieced(swept_us, pieced_us_);
    std::sort(pieced_us_.begin(), pieced_us_.end());

    Summary summary;
    summary.count = static_cast<std::int64_t>(rising_.size() + topped_us_.size() + pieced_us_.size());
    if (summary.count == 0) return summary;
    const auto rising = static_cast<std::int64_t>(rising_.size() - first_);
    const std::int64_t sum_us = offsets_sum_us_ + rising * value_us + topped_sum_us_ +
                                std::accumulate(pieced_us_.begin(), pieced_us_.end(), std::int64_t{0});
    summary.mean_us = static_cast<double>(sum_us) / static_cast<double>(summary.count);
    std::int32_t max_us = 0;
    if (rising > 0) max_us = value_us + rising_.back().offset_us;
    if (!topped_us_.empty()) max_us = std::max(max_us, topped_us_.back());
    if (!pieced_us_.empty()) max_us = std::max(max_us, pieced_us_.back());
    summary.max_us = max_us;
    const auto quantile = [&](double q) {
        const std::int64_t rank = nearest_rank(q, summary.count);
        std::int32_t below = -1;
        std::int32_t enough = max_us;
        while (enough - below > 1) {
            const std::int32_t middle = below + (enough - below) / 2;
            (count_up_to(middle, value_us) >= rank ? enough : below) = middle;
        }
        return TimeUs{enough};
    };
    summary.p50_us = quantile(0.50);
    summary.p95_us = quantile(0.95);
    summary.p99_us = quantile(0.99);
    settled_ = rising_.empty();
    last_ = summary;
    return summary;
}

} // namespace winkhold::measure
