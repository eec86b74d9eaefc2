#include "winkhold/taps/inspect/detail/line_watch.hpp"

#include "winkhold/taps/inspect/detail/line_figures.hpp"

#include <algorithm>

namespace winkhold::taps {
namespace {

constexpr TimeUs a_rest_us = 1'500'000; // longer than any dark phase: 933 ms at 45/min, 30 % (derived)

bool chopped_from_end_to_end(const LightFinder& finder, TimeUs tick_us) {
    return std::any_of(
               finder.lights.begin(), finder.lights.end(),
               [](const SeenLight& light) { return light.lit_us() > core::built_in::longest_on_us; }) &&
           is_chopped(finder, tick_us);
}

bool looks_like_flashes(const LightFinder& finder) {
    return std::count_if(finder.lights.begin(), finder.lights.end(), [](const SeenLight& light) {
               return light.lit_us() < core::built_in::longest_gap_us;
           }) >= 3;
}

} // namespace

void LineWatch::level(TimeUs t_us, bool high) {
    if (started_ && high == high_) return;
    if (started_) {
        ++changes_;
        count_run(t_us);
    } else {
        start_us_ = t_us;
    }
    const bool is_first = !started_;
    const bool at_start = t_us - start_us_ < unrest_us; // a chopped light may begin with a pause
    started_ = true;
    high_ = high;
    since_us_ = t_us;
    for (const bool lit_level : {false, true}) {
        if (is_first && high != lit_level) continue;
        Finders& finders = finders_[lit_level];
        finders.bridged.change(t_us, high == lit_level, at_start);
        finders.steady.change(t_us, high == lit_level, at_start);
    }
}

void LineWatch::count_run(TimeUs t_us) {
    const TimeUs run_us = t_us - since_us_;
    total_us_[high_] += run_us;
    longest_us_[high_] = std::max(longest_us_[high_], run_us);
    if (since_us_ == start_us_) return; // began before the recording
    for (std::size_t i = 0; i < short_pulse_us.size(); ++i)
        below_[high_][i] += run_us < short_pulse_us[i];
}

/// A tap rests dark: flashes are the exception. One that rests at both levels is stuck at times, or its
/// supply goes; then it takes three quarters of the time at high to call it inverted.
Polarity LineWatch::polarity() const {
    if (longest_us_[0] < a_rest_us && longest_us_[1] < a_rest_us) return Polarity::unknown;
    if (longest_us_[1] < a_rest_us) return Polarity::high_is_lit;
    const bool flashes_low = looks_like_flashes(finders_[0].bridged);
    if (longest_us_[0] < a_rest_us) return flashes_low ? Polarity::low_is_lit : Polarity::unknown;
    return flashes_low && total_us_[1] > 3 * total_us_[0] ? Polarity::low_is_lit : Polarity::high_is_lit;
}

LineView LineWatch::finish(TimeUs end_us, TimeUs tick_us) {
    LineView view;
    if (!started_) return view;
    total_us_[high_] += end_us - since_us_;
    longest_us_[high_] = std::max(longest_us_[high_], end_us - since_us_);
    for (Finders& finders : finders_) {
        finders.bridged.finish(end_us);
        finders.steady.finish(end_us);
    }
    view.polarity = polarity();
    const bool lit_level = view.polarity != Polarity::low_is_lit;
    Finders& finders = finders_[lit_level];
    view.dark_chopped =
        chopped_from_end_to_end(finders.bridged, tick_us) && looks_like_flashes(finders.steady);
    view.changes = changes_;
    view.rests_high = longest_us_[1] > longest_us_[0];
    view.highs_below = below_[1];
    view.lows_below = below_[0];
    const TimeUs length_us = end_us - start_us_;
    if (length_us > 0)
        view.lit_percent = 100 * static_cast<double>(total_us_[lit_level]) / static_cast<double>(length_us);
    if (view.dark_chopped) view.pwm = pwm_of(finders.bridged, tick_us);
    fill_figures(view, view.dark_chopped ? finders.steady : finders.bridged, {start_us_, end_us, tick_us});
    return view;
}

} // namespace winkhold::taps
