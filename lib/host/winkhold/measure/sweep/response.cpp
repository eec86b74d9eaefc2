#include "winkhold/measure/sweep/response.hpp"

#include "winkhold/measure/sweep/detail/radix_sort.hpp"

#include <Eigen/Core>
#include <algorithm>

namespace winkhold::measure {
namespace {

using Ramp = FigureResponse::Ramp;
using Stretch = FigureResponse::Stretch;

/// Into 32 bits without changing any figure for values in [0, 5 s].
std::int32_t narrow(TimeUs us) {
    constexpr TimeUs edge_us = 2'000'000'000;
    return static_cast<std::int32_t>(std::clamp(us, -edge_us, edge_us));
}

TimeUs value_of(Ramp ramp, TimeUs v_us) {
    return std::max<TimeUs>(0, std::min(v_us + ramp.offset_us, ramp.ceiling_us));
}

TimeUs value_of(const std::vector<Stretch>& stretches, TimeUs v_us) {
    auto in_force = stretches.begin();
    while (in_force + 1 != stretches.end() && (in_force + 1)->from_us <= v_us)
        ++in_force;
    return value_of(in_force->ramp, v_us);
}

TimeUs value_of(const std::vector<Ramp>& ramps, TimeUs v_us) {
    TimeUs sum_us = 0;
    for (const Ramp& ramp : ramps)
        sum_us += value_of(ramp, v_us);
    return sum_us;
}

template <class T>
void extend(std::vector<T>& to, const std::vector<T>& from) {
    to.insert(to.end(), from.begin(), from.end());
}

} // namespace

void CountResponse::add(ValueSpan span) {
    const TimeUs from_us = std::max<TimeUs>(0, span.from_us);
    if (from_us >= span.to_us || from_us > longest_value_us) return;
    if (from_us == 0)
        ++at_zero_;
    else
        starts_us_.push_back(static_cast<std::int32_t>(from_us));
    if (span.to_us <= longest_value_us) ends_us_.push_back(static_cast<std::int32_t>(span.to_us));
}

void CountResponse::append(const CountResponse& other) {
    extend(starts_us_, other.starts_us_);
    extend(ends_us_, other.ends_us_);
    at_zero_ += other.at_zero_;
}

void CountResponse::sort() {
    radix_sort(starts_us_);
    radix_sort(ends_us_);
}

std::int64_t CountResponse::count(TimeUs value_us) const {
    const auto up_to = [value_us](const std::vector<std::int32_t>& sorted) {
        return std::upper_bound(sorted.begin(), sorted.end(), value_us) - sorted.begin();
    };
    return at_zero_ + up_to(starts_us_) - up_to(ends_us_);
}

TimeUs CountResponse::least_value_us(std::int64_t most, TimeUs from_us) const {
    if (count(from_us) <= most) return from_us;
    if (starts_us_.empty()) { // falls from value to value: the first end that brings it down far enough
        const std::int64_t needed = at_zero_ - most;
        if (needed > static_cast<std::int64_t>(ends_us_.size())) return -1;
        return ends_us_[static_cast<std::size_t>(needed - 1)];
    }
    for (const std::int32_t end_us : ends_us_)
        if (end_us > from_us && count(end_us) <= most) return end_us;
    return -1;
}

void FigureResponse::add(Ramp ramp) {
    offsets_us_.push_back(narrow(ramp.offset_us));
    ceilings_us_.push_back(narrow(ramp.ceiling_us));
}

void FigureResponse::add_stretches(const std::vector<Stretch>& stretches) {
    if (stretches.size() == 1)
        add(stretches.front().ramp);
    else
        stretched_.push_back(stretches);
}

void FigureResponse::add_sum(const std::vector<Ramp>& ramps) {
    if (ramps.size() == 1)
        add(ramps.front());
    else if (ramps.empty())
        add_constant(0);
    else
        summed_.push_back(ramps);
}

void FigureResponse::append(const FigureResponse& other) {
    extend(offsets_us_, other.offsets_us_);
    extend(ceilings_us_, other.ceilings_us_);
    extend(stretched_, other.stretched_);
    extend(summed_, other.summed_);
}

void FigureResponse::evaluate(TimeUs value_us, std::vector<std::int32_t>& values_us) const {
    using Column = Eigen::Array<std::int32_t, Eigen::Dynamic, 1>;
    evaluate_pieced(value_us, values_us);
    const std::size_t pieced = values_us.size();
    values_us.resize(size());
    const auto n = static_cast<Eigen::Index>(offsets_us_.size());
    const Eigen::Map<const Column> offsets(offsets_us_.data(), n);
    const Eigen::Map<const Column> ceilings(ceilings_us_.data(), n);
    Eigen::Map<Column>(values_us.data() + pieced, n) =
        (offsets + static_cast<std::int32_t>(value_us)).min(ceilings).max(0);
}

void FigureResponse::evaluate_pieced(TimeUs value_us, std::vector<std::int32_t>& values_us) const {
    values_us.clear();
    for (const auto& stretches : stretched_)
        values_us.push_back(narrow(value_of(stretches, value_us)));
    for (const auto& ramps : summed_)
        values_us.push_back(narrow(value_of(ramps, value_us)));
}

} // namespace winkhold::measure
