#include "winkhold/taps/inspect/detail/line_figures.hpp"

#include "winkhold/base/statistics/summary.hpp"
#include "winkhold/taps/inspect/detail/line_trend.hpp"

#include <algorithm>
#include <numeric>

namespace winkhold::taps {
namespace {

double middle_us(const LightFinder& finder) {
    double sum_us = 0;
    for (const SeenLight& light : finder.lights)
        sum_us += static_cast<double>(std::max<TimeUs>(0, light.last_high_us - light.on_us - 2 * unrest_us));
    return sum_us;
}

/// Cycles as long as each other. Generous, for a PWM that is recorded in coarse steps.
bool is_regular(const RunLengths& cycles) {
    return cycles.quantile_us(0.9) <= 2.5 * cycles.quantile_us(0.1);
}

LineKind kind_of(const LineView& view, bool chopped) {
    if (view.lights.empty()) return LineKind::never_lit;
    if (view.lights.size() > 1) return LineKind::flashing;
    const SeenLight& only = view.lights.front();
    if (chopped && only.lit_us() > core::built_in::longest_on_us)
        return view.pwm ? LineKind::chopped_on : LineKind::restless;
    return only.from_start && only.to_end ? LineKind::always_lit : LineKind::single_flash;
}

/// Settling times and false levels of one kind of edge, gathered light by light.
class BounceTally {
public:
    void add(std::size_t changes, TimeUs settles_us, TimeUs false_us) {
        ++bounce_.edges;
        bounce_.bounced += changes > 0;
        changes_ += static_cast<double>(changes);
        bounce_.longest_false_us = std::max(bounce_.longest_false_us, false_us);
        settling_us_.push_back(settles_us);
    }
    EdgeBounce bounce() {
        if (bounce_.edges > 0) bounce_.changes_mean = changes_ / static_cast<double>(bounce_.edges);
        bounce_.settling = lengths_of(std::move(settling_us_));
        return bounce_;
    }

private:
    EdgeBounce bounce_;
    double changes_{0};
    std::vector<TimeUs> settling_us_;
};

void measure_bounce(LineView& view) {
    BounceTally rises, falls;
    for (const SeenLight& light : view.lights) {
        if (light.last_high_us - light.on_us < 2 * unrest_us) continue; // one edge's unrest is the other's
        if (!light.from_start)
            rises.add(light.rise_changes_us.size(), light.rise_settles_us(), light.rise_low_us);
        if (!light.to_end)
            falls.add(static_cast<std::size_t>(light.fall_changes), light.fall_settles_us(),
                      light.fall_high_us);
    }
    view.rise = rises.bounce();
    view.fall = falls.bounce();
}

/// No trend, if the rhythm changes at once: with a lamp out, or flashes in groups.
bool one_rhythm(std::vector<TimeUs> periods_us) {
    const Lengths lengths = lengths_of(std::move(periods_us));
    return 3 * lengths.p95_us < 4 * lengths.p5_us;
}

/// Gaps of a second and more are rests between requests, as for the decoder's cadence.
void measure_rhythm(LineView& view, TimeUs start_us) {
    std::vector<TrendPoint> trend;
    std::vector<TimeUs> periods_us;
    for (std::size_t i = 0; i < view.lights.size(); ++i) {
        const SeenLight& light = view.lights[i];
        if (light.whole()) view.on_us.push_back(light.lit_us());
        if (i + 1 == view.lights.size()) break;
        const SeenLight& next = view.lights[i + 1];
        const TimeUs dark_us = next.on_us - light.off_us;
        if (dark_us > core::built_in::longest_gap_us) continue;
        view.dark_us.push_back(dark_us);
        if (light.from_start || light.lit_us() > core::built_in::longest_on_us) continue;
        periods_us.push_back(next.on_us - light.on_us);
        trend.push_back(
            {static_cast<double>(light.on_us - start_us) / 60e6, static_cast<double>(periods_us.back())});
    }
    view.on = lengths_of(view.on_us);
    view.dark = lengths_of(view.dark_us);
    view.rate = flash_rate_of(periods_us);
    if (one_rhythm(std::move(periods_us))) view.drift = drift_of(trend);
}

} // namespace

bool is_chopped(const LightFinder& finder) {
    const RunLengths& cycles = finder.chopping.cycles;
    return cycles.count() >= 4 && cycles.sum_us() > 0.5 * middle_us(finder);
}

std::optional<Pwm> pwm_of(const LightFinder& finder) {
    const Chopping& chopping = finder.chopping;
    if (!is_regular(chopping.cycles)) return std::nullopt;
    return Pwm{.hz = 1e6 / chopping.cycles.quantile_us(0.5),
               .duty_percent = 100 * chopping.high_us / chopping.cycles.sum_us(),
               .longest_low_us = chopping.low_most_us};
}

void fill_figures(LineView& view, LightFinder& finder, TimeUs start_us) {
    const bool chopped = is_chopped(finder);
    if (chopped) view.pwm = pwm_of(finder);
    view.lights = std::move(finder.lights);
    if (chopped) // the falls near the end are no bounce
        for (SeenLight& light : view.lights)
            light.off_us = light.last_high_us;
    view.pulses = finder.pulses;
    view.longest_pulse_us = finder.longest_pulse_us;
    view.kind = kind_of(view, chopped);
    if (!chopped) measure_bounce(view);
    measure_rhythm(view, start_us);
}

FlashRate flash_rate_of(const std::vector<TimeUs>& periods_us) {
    if (periods_us.empty()) return {};
    const auto cycles = static_cast<double>(periods_us.size());
    double sum_of_rates = 0;
    double sum_us = 0;
    for (const TimeUs period_us : periods_us) {
        sum_of_rates += 60e6 / static_cast<double>(period_us);
        sum_us += static_cast<double>(period_us);
    }
    return {static_cast<std::int64_t>(periods_us.size()), sum_of_rates / cycles, 60e6 * cycles / sum_us};
}

Lengths lengths_of(std::vector<TimeUs> values_us) {
    Lengths lengths;
    if (values_us.empty()) return lengths;
    std::sort(values_us.begin(), values_us.end());
    const auto n = static_cast<std::int64_t>(values_us.size());
    const auto at = [&](double q) { return values_us[static_cast<std::size_t>(nearest_rank(q, n) - 1)]; };
    lengths.count = n;
    lengths.mean_us = std::accumulate(values_us.begin(), values_us.end(), 0.0) / static_cast<double>(n);
    lengths.least_us = values_us.front();
    lengths.p5_us = at(0.05);
    lengths.p50_us = at(0.5);
    lengths.p95_us = at(0.95);
    lengths.most_us = values_us.back();
    return lengths;
}

} // namespace winkhold::taps
