/// When something happens most often, in memory that does not grow.
#pragma once

#include "winkhold/base/time.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>

namespace winkhold::taps {

/// Counts moments in 64 stretches of equal length, which doubles when the time runs over.
class BusyStretch {
public:
    /// `since_us` from the recording's begin, in any order.
    void add(TimeUs since_us) {
        while (since_us / stretch_us_ >= static_cast<TimeUs>(counts_.size()))
            widen();
        ++counts_[static_cast<std::size_t>(since_us / stretch_us_)];
        ++count_;
    }
    /// How many moments in all.
    std::int64_t count() const { return count_; }
    /// Of each stretch, so far: 1 s, doubled as often as needed.
    TimeUs length_us() const { return stretch_us_; }
    /// Where the busiest stretch begins, since the recording's begin; the first of several.
    TimeUs begin_us() const { return stretch_us_ * (busiest() - counts_.begin()); }
    /// How many moments fell into the busiest stretch.
    std::int64_t most() const { return *busiest(); }

private:
    using Counts = std::array<std::int64_t, 64>;
    Counts::const_iterator busiest() const { return std::max_element(counts_.begin(), counts_.end()); }
    void widen() {
        for (std::size_t i = 0; i < counts_.size(); ++i)
            counts_[i] = 2 * i < counts_.size() ? counts_[2 * i] + counts_[2 * i + 1] : 0;
        stretch_us_ *= 2;
    }

    Counts counts_{};
    TimeUs stretch_us_{1'000'000};
    std::int64_t count_{0};
};

} // namespace winkhold::taps
