#include "winkhold/taps/inspect/detail/other_watch.hpp"

#include <algorithm>

namespace winkhold::taps {

void OtherWatch::level(TimeUs t_us, core::Lines lines) {
    const bool high = lines.has(seen_.tap);
    if (started_ && high == high_) return;
    if (started_)
        end_level(t_us);
    else
        start_us_ = t_us;
    seen_.times += high;
    started_ = true;
    high_ = high;
    since_us_ = t_us;
}

void OtherWatch::end_level(TimeUs t_us) {
    constexpr TimeUs short_us = 20'000; // bounce of the worst contact
    const TimeUs lasts_us = t_us - since_us_;
    if (high_) {
        high_us_ += lasts_us;
        seen_.longest_high_us = std::max(seen_.longest_high_us, lasts_us);
        seen_.short_highs += lasts_us < short_us;
    } else if (since_us_ > start_us_ && lasts_us < core::Settings{}.supply_gone_us) {
        ++seen_.dips;
        seen_.longest_dip_us = std::max(seen_.longest_dip_us, lasts_us);
    }
}

std::optional<OtherTap> OtherWatch::finish(TimeUs end_us) {
    if (seen_.times == 0) return std::nullopt;
    if (high_) end_level(end_us);
    if (end_us > start_us_)
        seen_.high_percent = 100 * static_cast<double>(high_us_) / static_cast<double>(end_us - start_us_);
    return seen_;
}

} // namespace winkhold::taps
