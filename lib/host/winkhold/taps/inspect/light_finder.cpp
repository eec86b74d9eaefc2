#include "winkhold/taps/inspect/light_finder.hpp"

#include "winkhold/taps/inspect/detail/mend.hpp"
#include "winkhold/taps/trace/trace.hpp"

#include <algorithm>

namespace winkhold::taps {
namespace {

constexpr TimeUs longest_cycle_us = 50'000; // half waves of a generator at idle, 20 Hz (common practice)
constexpr std::size_t least_cycles = 4;
constexpr std::size_t most_changes = 64;

} // namespace

void LightFinder::change(TimeUs t_us, bool high, bool at_start) {
    if (!start_us_) start_us_ = t_us;
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
        break_run();
        light_is_chopped_ = false;
        lows_at_us_.clear();
    } else {
        note_change(t_us);
        if (t_us - light_.on_us <= unrest_us) light_.rise_low_us = std::max(light_.rise_low_us, low_us);
        note_cycle({t_us - last_rise_us_, low_us});
        if (last_fall_us_ - light_.on_us > unrest_us) lows_at_us_.push_back(last_fall_us_);
    }
    last_rise_us_ = t_us;
}

void LightFinder::note_cycle(Cycle cycle) {
    if (cycle.us > longest_cycle_us) return break_run();
    if (run_counts_) return count_cycle(cycle);
    run_.push_back(cycle);
    run_us_ += cycle.us;
    if (run_.size() < least_cycles || run_us_ < unrest_us) return;
    run_counts_ = true;
    chopping.lights += !light_is_chopped_;
    light_is_chopped_ = true;
    for (const Cycle& one : run_)
        count_cycle(one);
}

void LightFinder::count_cycle(Cycle cycle) {
    chopping.cycles.add(cycle.us);
    chopping.lows.add(cycle.low_us);
    chopping.high_us += static_cast<double>(cycle.us - cycle.low_us);
    chopping.low_most_us = std::max(chopping.low_most_us, cycle.low_us);
}

void LightFinder::count_breaks() {
    breaks += std::ssize(lows_at_us_);
    light_.mended = light_.mended || !lows_at_us_.empty();
    for (const TimeUs at_us : lows_at_us_)
        noise.add(at_us - *start_us_);
    lows_at_us_.clear();
}

void LightFinder::break_run() {
    run_.clear();
    run_us_ = 0;
    run_counts_ = false;
}

void LightFinder::fall(TimeUs t_us) {
    note_change(t_us);
    if (t_us - last_rise_us_ >= unrest_us) count_breaks();
    last_fall_us_ = t_us;
    while (!recent_.empty() && t_us - recent_.front().fall_us >= unrest_us)
        recent_.pop_front();
    recent_.push_back({last_rise_us_, t_us});
}

void LightFinder::finish(TimeUs end_us) {
    if (!open_) return;
    const bool lit = last_rise_us_ > last_fall_us_ || recent_.empty();
    const bool may_go_on = lit || end_us - last_fall_us_ < bridged_us_;
    if (lit) last_fall_us_ = end_us;
    close(may_go_on);
}

void LightFinder::close(bool to_end) {
    open_ = false;
    light_.to_end = to_end;
    light_.off_us = light_.last_high_us = last_fall_us_;
    if (last_fall_us_ - light_.on_us < least_us_) {
        note_pulse();
        return;
    }
    if (!to_end) find_fall(light_);
    if (pulse_) {
        light_.after_pulse_us = light_.on_us - pulse_->on_us;
        light_.pulse_lit_us = pulse_->off_us - pulse_->on_us;
    }
    pulse_.reset();
    lights.push_back(std::move(light_));
    // those that the recording cuts are none: a line that rests lit has one at each end
    const std::size_t cut = (lights.front().from_start ? 1u : 0u) + (to_end ? 1u : 0u);
    check_flashes(std::max(lights.size(), cut) - cut);
}

void LightFinder::note_pulse() {
    ++pulses;
    noise.add(light_.on_us - *start_us_);
    longest_pulse_us = std::max(longest_pulse_us, last_fall_us_ - light_.on_us);
    if (!lights.empty() && light_.on_us - lights.back().last_high_us < short_level_us)
        lights.back().mended = true;
    pulse_ = {light_.on_us, last_fall_us_};
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
