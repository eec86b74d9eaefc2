#include "reference/rhythm.hpp"

#include <algorithm>

namespace winkhold::reference {

void Durations::add(TimeUs units, bool may_begin_block) {
    if (counts_.back() == 24 && may_begin_block) {
        blocks_.emplace_back();
        counts_.push_back(0);
    }
    blocks_.back().push_back(units);
    counts_.back() = std::min<std::size_t>(24, counts_.back() + 1);
}

std::vector<TimeUs> Durations::known() const {
    std::vector<TimeUs> all = blocks_.back();
    if (blocks_.size() > 1) {
        const auto& before = blocks_[blocks_.size() - 2];
        all.insert(all.end(), before.begin(), before.end());
    }
    return all;
}

TimeUs Durations::most() const {
    const auto all = known();
    return *std::max_element(all.begin(), all.end());
}

TimeUs Durations::margin(TimeUs around, const core::Settings& s) const {
    if (!s.spread) return 0;
    const auto all = known();
    const auto [least, most] = std::minmax_element(all.begin(), all.end());
    const std::size_t count = blocks_.size() > 1 ? 24 : counts_.back();
    const TimeUs share = count >= 16 ? 64 : TimeUs{1} << std::min<std::size_t>(4, count);
    return std::min(*most - *least, around / 8) + around / share;
}

bool Durations::much_shorter(TimeUs units, const core::Settings& s) const {
    const auto all = known();
    if (all.size() < 2) return false;
    const TimeUs least = *std::min_element(all.begin(), all.end());
    return least - units > margin(least, s) + (TimeUs{s.cut_margin_us} + 63) / 64;
}

bool Durations::much_longer(TimeUs units, const core::Settings& s) const {
    const auto all = known();
    if (all.size() < 2) return false;
    return units - most() > margin(most(), s) + (TimeUs{s.cut_margin_us} + 63) / 64;
}

void Rhythm::gap(TimeUs units, TimeUs period_us) {
    if (period_us >= 450'000) {
        fast_in_a_row_ = 0;
        ++usual_gaps_;
    } else {
        ++fast_in_a_row_;
    }
    gaps_.add(units, may_begin_block());
}

TimeUs Rhythm::expected_us() const {
    const TimeUs most = gaps_.most();
    return 64 * (most + gaps_.margin(most, s_) + (s_.spread && trust_ < 4 ? most / 4 : 0));
}

} // namespace winkhold::reference
