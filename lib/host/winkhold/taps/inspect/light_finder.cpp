#include "winkhold/taps/inspect/light_finder.hpp"

#include "winkhold/taps/trace/trace.hpp"

#include <algorithm>

namespace winkhold::taps {
namespace {

constexpr TimeUs longest_cycle_us = 30'000; // PWM below 33 Hz would be seen to flicker
constexpr std::size_t most_changes = 64;

} // namespace

void LightFinder::change(TimeUs t_us, bool high, bool at_start) {
    if (high)
        rise(t_us, at_start);
    else
        fall(t_us);
}

void LightFinder::note_change(TimeUs t_us) {
    const TimeUs since_us = t_us - light_.on_us;
    if (since_us > 0 && since_us <= unrest_us && light_.rise_changes_us.size() < most_changes)
        light_.rise_changes_us.push_back(static_cast<std::int32_t>(since_us));
}

void LightFinder::rise(TimeUs t_us, bool at_start) {
    const TimeUs low_us = t_us - last_fall_us_;
    if (open_ && low_us >= bridged_us_) close(false);
    if (!open_) {
        open_ = true;
        light_ = SeenLight{.on_us = t_us, .from_start = at_start};
        recent_.clear();
        rest_from_us_ = t_us + unrest_us;
    } else {
        note_change(t_us);
        if (t_us - light_.on_us <= unrest_us) light_.rise_low_us = std::max(light_.rise_low_us, low_us);
        const TimeUs cycle_us = t_us - last_rise_us_;
        if (last_rise_us_ >= rest_from_us_ && cycle_us <= longest_cycle_us) {
            chopping.cycles.add(cycle_us);
            chopping.high_us += static_cast<double>(cycle_us - low_us);
            chopping.low_most_us = std::max(chopping.low_most_us, low_us);
        }
    }
    last_rise_us_ = t_us;
}

void LightFinder::fall(TimeUs t_us) {
    note_change(t_us);
    last_fall_us_ = t_us;
    while (!recent_.empty() && t_us - recent_.front().fall_us >= unrest_us)
        recent_.pop_front();
    recent_.push_back({last_rise_us_, t_us});
}

void LightFinder::finish(TimeUs end_us) {
    if (!open_) return;
    const bool lit = last_rise_us_ > last_fall_us_ || recent_.empty();
    if (lit) last_fall_us_ = end_us;
    close(lit);
}

void LightFinder::close(bool to_end) {
    open_ = false;
    light_.to_end = to_end;
    light_.off_us = light_.last_high_us = last_fall_us_;
    if (last_fall_us_ - light_.on_us < least_us_) {
        ++pulses;
        longest_pulse_us = std::max(longest_pulse_us, last_fall_us_ - light_.on_us);
        return;
    }
    if (!to_end) find_fall(light_);
    lights.push_back(std::move(light_));
    // those that the recording cuts are none: a line that rests lit has one at each end
    const std::size_t cut = (lights.front().from_start ? 1u : 0u) + (to_end ? 1u : 0u);
    check_flashes(std::max(lights.size(), cut) - cut);
}

void LightFinder::find_fall(SeenLight& light) const {
    // a change so soon after the rise is the rise's
    const auto first = std::find_if(recent_.begin(), recent_.end(), [&](const High& high) {
        return high.fall_us > light.on_us + light.rise_settles_us() &&
               last_fall_us_ - high.fall_us < unrest_us;
    });
    if (first == recent_.end()) return;
    light.off_us = first->fall_us;
    light.fall_changes = 2 * static_cast<int>(recent_.end() - first - 1);
    for (auto high = first + 1; high != recent_.end(); ++high)
        light.fall_high_us = std::max(light.fall_high_us, high->fall_us - high->rise_us);
}

} // namespace winkhold::taps
