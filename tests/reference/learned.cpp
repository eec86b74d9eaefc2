#include "reference/learned.hpp"

#include <algorithm>

namespace winkhold::reference {
namespace {

constexpr TimeUs unit_us = 64;
constexpr int chatter_memory = 8;

std::vector<TimeUs> last_four(const std::vector<TimeUs>& durations) {
    return {durations.end() - std::min<std::ptrdiff_t>(4, std::ssize(durations)), durations.end()};
}

TimeUs least_of_last_four(const std::vector<TimeUs>& durations) {
    const auto recent = last_four(durations);
    return *std::min_element(recent.begin(), recent.end());
}

TimeUs most_of_last_four(const std::vector<TimeUs>& durations) {
    const auto recent = last_four(durations);
    return *std::max_element(recent.begin(), recent.end());
}

} // namespace

void Learned::flash_begins(const Flash* before, const Flash& flash) {
    if (before != nullptr && before->pieces.size() > 1) chatter_flashes_left_ = chatter_memory;
    const bool false_cut = before != nullptr && !before->stuck() && before->pieces.back().teaches &&
                           before->pieces.back().cut != CutShort::no;
    if (before != nullptr && !before->stuck() && before->pieces.back().teaches) flash_taught(*before);
    const TimeUs gap_us = before == nullptr ? never_us : flash.start_us() - before->last_high_us();
    const bool in_rhythm = gap_us <= longest_gap_us;
    const TimeUs gap = (gap_us + unit_us - 1) / unit_us;
    joined_midway_ = !in_rhythm || (knows_gap() && gap > expected_gap_us() / unit_us + margin());
    if (in_rhythm) {
        learn(gaps_, gap);
        if (false_cut) {
            quiet_ = true;
            like_flashes_ = 0;
        }
    }
}

void Learned::flash_taught(const Flash& flash) {
    if (chatter_flashes_left_ > 0) --chatter_flashes_left_;
    const TimeUs on_us = flash.last_high_us() - flash.start_us();
    const TimeUs units = std::max(TimeUs{1}, on_us / unit_us);
    const bool short_one = clearly_shorter(on_us);
    // a first flash that is clearly shorter than the second taught nothing
    if (only_such_known_ && units > on_times_.front() + margin()) on_times_.clear();
    only_such_known_ = joined_midway_ && on_times_.empty();
    if (!short_one) {
        learn(on_times_, units);
        short_one_ = 0;
        if (quiet_ && ++like_flashes_ == 2) quiet_ = false;
        return;
    }
    if (joined_midway_) return;
    const bool alike = short_one_ != 0 && std::abs(units - short_one_) <= margin();
    if (alike) { // two like short flashes are a new rhythm
        on_times_ = {short_one_, units};
        quiet_ = false;
    }
    short_one_ = alike ? 0 : units;
}

CutShort Learned::verdict(TimeUs on_us, bool chattered) const {
    if (joined_midway_ || quiet_ || !clearly_shorter(on_us)) return CutShort::no;
    const bool may_chatter = chattered || chatter_flashes_left_ > 0 || on_us < chatter_gap_us;
    return may_chatter ? CutShort::if_it_stays_dark : CutShort::yes;
}

TimeUs Learned::expected_gap_us() const {
    const TimeUs units = most_of_last_four(gaps_);
    return (units + spread(gaps_, units)) * unit_us;
}

/// In whole units.
bool Learned::clearly_shorter(TimeUs on_us) const {
    if (on_times_.size() < 2) return false;
    const TimeUs least = least_of_last_four(on_times_);
    return least - std::max(TimeUs{1}, on_us / unit_us) > margin() + spread(on_times_, least);
}

TimeUs Learned::margin() const {
    return (TimeUs{settings_.cut_margin_us} + unit_us - 1) / unit_us;
}

/// The largest step is kept in 1/8192, told in whole 1/256, and fades by 1/64 with each later step.
void Learned::learn(std::vector<TimeUs>& durations, TimeUs units) {
    if (!durations.empty()) {
        const TimeUs last = durations.back();
        const TimeUs step = std::abs(units - last);
        if (step * 4 <= last) {
            largest_step_ = std::max(largest_step_ - largest_step_ / 64, step * 256 / last * 32);
        }
    }
    durations.push_back(units);
}

TimeUs Learned::spread(const std::vector<TimeUs>& durations, TimeUs units) const {
    if (!settings_.spread) return 0;
    TimeUs unsure = units / 64;
    if (durations.size() == 1) unsure = units / 2;
    if (durations.size() == 2) unsure = units / 4;
    if (durations.size() == 3) unsure = units / 8;
    return units * 3 * (largest_step_ / 32) / 256 + unsure;
}

} // namespace winkhold::reference
