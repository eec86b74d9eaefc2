/// How long a flash's shorter phase usually is.
#pragma once

#include "winkhold/base/statistics/detail/median.hpp"
#include "winkhold/taps/trace/trace.hpp"

#include <algorithm>
#include <vector>

namespace winkhold::taps {

/// Of one line; takes the first 1,000 lights and gaps.
class UsualFlash {
public:
    /// Lows below `bridged_us` are part of a light.
    explicit UsualFlash(TimeUs bridged_us) : bridged_us_(std::max(bridged_us, least_us)) {}

    void level(TimeUs t_us, bool high) {
        if (high == high_) return;
        high_ = high;
        if (!high) {
            fell_us_ = t_us;
        } else if (rose_us_ < 0) {
            rose_us_ = t_us;
        } else if (const TimeUs gap_us = t_us - fell_us_; gap_us >= bridged_us_) {
            note(lit_us_, fell_us_ - rose_us_);
            if (gap_us <= core::built_in::longest_gap_us) note(dark_us_, gap_us);
            rose_us_ = t_us;
        }
    }
    /// The shorter one of the usual light and the usual gap; 0 if there were not three of each. Unit: us.
    double shorter_us() const {
        if (lit_us_.size() < 3 || dark_us_.size() < 3) return 0;
        return std::min(median(lit_us_), median(dark_us_));
    }

private:
    static constexpr TimeUs least_us = 20'000; ///< bounce is no flash
    static constexpr std::size_t most = 1'000;

    static void note(std::vector<double>& lengths, TimeUs us) {
        if (us >= least_us && lengths.size() < most) lengths.push_back(static_cast<double>(us));
    }

    TimeUs bridged_us_;
    bool high_{false};
    TimeUs rose_us_{-1};
    TimeUs fell_us_{0};
    std::vector<double> lit_us_, dark_us_;
};

} // namespace winkhold::taps
