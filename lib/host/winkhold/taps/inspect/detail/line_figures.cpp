#include "winkhold/taps/inspect/detail/line_figures.hpp"

#include "winkhold/base/statistics/summary.hpp"
#include "winkhold/taps/inspect/detail/line_trend.hpp"
#include "winkhold/taps/inspect/detail/mend.hpp"

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

/// Rises as far apart as each other, whatever is lit between them: four in five within 5 % of the usual
/// distance, or within a step of the recording's clock. At either end of a light, and where a dimmer is at
/// its brightest, a rise is early or missing.
bool is_regular(const RunLengths& cycles, TimeUs tick_us) {
    const double usual_us = cycles.quantile_us(0.5);
    return cycles.share_near(usual_us, std::max(0.05 * usual_us, static_cast<double>(tick_us))) >= 0.8;
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

/// A few may be flashes that the rider cut short as they began, or a contact that broke once.
void measure_noise(LineView& view, const BusyStretch& noise, Recorded recorded) {
    const std::int64_t count = view.pulses + view.breaks;
    if (view.dark_chopped || count < 3 || 20 * count <= std::ssize(view.lights)) return;
    const TimeUs length_us = std::max<TimeUs>(1, recorded.end_us - recorded.start_us);
    view.noise = Noise{
        .per_min = static_cast<double>(count) * 60e6 / static_cast<double>(length_us),
        .busiest_from_us = recorded.start_us + noise.begin_us(),
        .busiest_to_us = std::min(recorded.end_us, recorded.start_us + noise.begin_us() + noise.length_us()),
        .in_busiest = noise.most()};
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

bool is_chopped(const LightFinder& finder, TimeUs tick_us) {
    const Chopping& chopping = finder.chopping;
    if (chopping.cycles.count() == 0) return false;
    if (chopping.cycles.sum_us() > 0.5 * middle_us(finder)) return true;
    return 2 * chopping.lights >= std::ssize(finder.lights) && is_regular(chopping.cycles, tick_us);
}

std::optional<Pwm> pwm_of(const LightFinder& finder, TimeUs tick_us) {
    const Chopping& chopping = finder.chopping;
    if (!is_regular(chopping.cycles, tick_us)) return std::nullopt;
    const double cycle_us = chopping.cycles.quantile_us(0.5);
    const auto high_percent = [&](double low_us) { return 100 * std::max(0.0, 1 - low_us / cycle_us); };
    return Pwm{.hz = 1e6 / cycle_us,
               .duty_percent = 100 * chopping.high_us / chopping.cycles.sum_us(),
               .dimmest_percent = high_percent(chopping.lows.quantile_us(0.95)),
               .brightest_percent = high_percent(chopping.lows.quantile_us(0.05)),
               .longest_low_us = chopping.low_most_us};
}

void fill_figures(LineView& view, LightFinder& finder, Recorded recorded) {
    const bool chopped = is_chopped(finder, recorded.tick_us);
    if (chopped) view.pwm = pwm_of(finder, recorded.tick_us);
    if (chopped) // the falls near the end are no bounce
        for (SeenLight& light : finder.lights)
            light.off_us = light.last_high_us;
    Mended mended;
    if (view.dark_chopped) // all pulses are, and stand anywhere
        mended.lights = std::move(finder.lights);
    else
        mended = mend(std::move(finder.lights), chopped);
    view.lights = std::move(mended.lights);
    view.short_lights = std::move(mended.pulses);
    view.pulses = finder.pulses + std::ssize(view.short_lights);
    view.longest_pulse_us = view.longest_glitch_us = finder.longest_pulse_us;
    for (const SeenLight& pulse : view.short_lights) {
        view.longest_pulse_us = std::max(view.longest_pulse_us, pulse.lit_us());
        finder.noise.add(pulse.on_us - recorded.start_us);
    }
    if (!chopped) view.breaks = finder.breaks + std::ssize(mended.breaks_us);
    for (const TimeUs at_us : mended.breaks_us)
        finder.noise.add(at_us - recorded.start_us);
    measure_noise(view, finder.noise, recorded);
    view.kind = kind_of(view, chopped);
    if (!chopped) measure_bounce(view);
    measure_rhythm(view, recorded.start_us);
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
