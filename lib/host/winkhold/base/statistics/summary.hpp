/// A list of figures in five numbers.
#pragma once

#include "winkhold/base/time.hpp"

#include <cstdint>
#include <vector>

namespace winkhold::base {

/// Quantiles are nearest-rank: the value at place ceil(q n) of the sorted list. Unit: us. All 0 if empty.
struct Summary {
    std::int64_t count{0};
    double mean_us{0};
    TimeUs p50_us{0};
    TimeUs p95_us{0};
    TimeUs p99_us{0};
    TimeUs max_us{0};
};

/// The place, counted from 1, of quantile q among `count` sorted values: ceil(q count), at least 1.
std::int64_t nearest_rank(double q, std::int64_t count);

/// Reorders `values_us`.
Summary summarise(std::vector<std::int32_t>& values_us);

/// Of figures that fit 32 bits.
Summary summarise(const std::vector<TimeUs>& values_us);

} // namespace winkhold::base
