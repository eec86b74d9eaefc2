/// All figures of one kind while the swept value rises: mean and quantiles without sorting again at each
/// value.
#pragma once

#include "winkhold/base/statistics/summary.hpp"
#include "winkhold/measure/sweep/response.hpp"

namespace winkhold::measure {

/// A figure's ramp is at 0, rising, or at its ceiling, and goes through these once. Rising ones keep their
/// order among themselves, because all rise alike; so do those at their ceiling, because they stand still. A
/// quantile is then a search in two sorted lists.
class RisingFigures {
public:
    explicit RisingFigures(const FigureResponse& response);

    /// Five numbers at this value. Calls with rising values.
    Summary at(TimeUs value_us);

private:
    struct Ramp {
        std::int32_t offset_us;
        std::int32_t ceiling_us;
    };

    static constexpr std::int64_t never_topping_us = std::numeric_limits<std::int64_t>::max();

    void top_out(std::int32_t value_us);
    std::int64_t count_up_to(std::int32_t figure_us, std::int32_t value_us) const;

    const FigureResponse& response_;
    std::vector<Ramp> rising_; ///< by offset; those before first_ are still at 0
    std::size_t first_;
    std::int64_t offsets_sum_us_{0};      ///< of those from first_ on
    std::vector<std::int32_t> topped_us_; ///< figures at their ceiling, sorted
    std::int64_t topped_sum_us_{0};
    std::int64_t next_topping_us_{0}; ///< least value at which another one tops out
    Summary last_;
    bool settled_{false};                 ///< every ramp had topped out by the last value
    std::vector<std::int32_t> pieced_us_; ///< figures of several pieces, sorted anew at each value
};

} // namespace winkhold::measure
