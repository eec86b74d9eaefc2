#include "winkhold/measure/fit/fit.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/statistics/detail/quantiles.hpp"
#include "winkhold/measure/fit/detail/contact_fit.hpp"
#include "winkhold/measure/fit/detail/cycles.hpp"
#include "winkhold/measure/fit/detail/side_change_fit.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::measure {
namespace {

/// Each end of a phase is rounded to the clock's step, evenly. A chopped light goes from its first high to
/// its last one: a pause is no part of it. A flasher that begins and ends it anywhere in the carrier's cycle
/// C, though, is late by the rest of a low L at the first high, and early at the last one: L / C of all
/// times, by L / 2 on average, which adds to the scatter, too.
ReadingError reading_error(const Inspection& seen) {
    const auto step_us = static_cast<double>(seen.tick_us);
    ReadingError error{.variance = step_us * step_us / 6};
    const std::size_t most_lights = std::max(seen.lines[0].lights.size(), seen.lines[1].lights.size());
    ReadingError chopped = error;
    for (const LineView& line : seen.lines) {
        if (4 * line.lights.size() < most_lights) continue;
        // both sides have one driver: if one line isn't chopped, the other one hums
        if (!line.pwm || line.dark_chopped) return error;
        if (chopped.on_short_us > 0) continue;
        const auto low_us = static_cast<double>(line.pwm->longest_low_us);
        const double cycle_us = 1e6 / line.pwm->hz;
        const double mean_us = low_us * low_us / (2 * cycle_us);
        chopped.on_short_us = low_us;
        chopped.variance +=
            std::max(0.0, 2 * (low_us * low_us * low_us / (3 * cycle_us) - mean_us * mean_us));
    }
    return chopped;
}

/// What belongs together, once a rhythm is known.
BurstGaps gaps_of(const RhythmFit& rhythm) {
    const double on_us = rhythm.on_us.value;
    const double dark_us = rhythm.dark_us.value;
    const double jitter = rhythm.jitter_percent.value / 100;
    const double two_us = 2 * dark_us + on_us;
    const double margin_us =
        std::max(5 * jitter * std::sqrt(2 * dark_us * dark_us + on_us * on_us), 0.03 * two_us);
    return {.most_us = dark_us * (1 + std::max(0.1, 6 * jitter)),
            .missing_least_us = two_us - margin_us,
            .missing_most_us = two_us + margin_us};
}

constexpr double least_explained = 0.65; // broken flashes of the worst contacts leave 0.8 (measured)

constexpr double most_jitter_percent = 20; // the worst flashers of the survey have 8; beyond is chance

struct Rhythms {
    std::optional<RhythmFit> main;
    std::optional<OtherRhythm> other;
};

/// Broken flashes that happen to be far enough from the whole ones, and no second rhythm.
bool is_scatter(const RhythmFit& minor, const RhythmFit& major) {
    constexpr std::int64_t least_lights = 6;
    return minor.on_count < least_lights ||
           minor.jitter_percent.value > std::max(5.0, 4 * major.jitter_percent.value);
}

Rhythms fit_rhythms(const std::vector<Cycle>& cycles, const ReadingError& reading) {
    const auto two = two_rhythms(cycles);
    if (!two) return {fit_rhythm(phases_of(cycles), reading), {}};
    Rhythms rhythms{fit_rhythm(phases_of(two->slow), reading), {}};
    const auto quick = fit_rhythm(phases_of(two->quick), reading);
    if (!rhythms.main) return {quick, {}};
    if (!quick) return rhythms;
    const auto fewer = static_cast<std::int64_t>(std::min(two->slow.size(), two->quick.size()));
    const bool interleaved = two->stretches > fewer;
    const bool slow_is_minor = two->slow.size() < two->quick.size();
    const RhythmFit minor = slow_is_minor ? *rhythms.main : *quick;
    const RhythmFit major = slow_is_minor ? *quick : *rhythms.main;
    if (interleaved && two->usual_group() == 0 && is_scatter(minor, major)) return Rhythms{major, {}};
    rhythms.other =
        OtherRhythm{.rhythm = *quick,
                    .lamp_out = quick->rate_per_min.value > 1.33 * rhythms.main->rate_per_min.value &&
                                two->stretches <= 3,
                    .interleaved = interleaved,
                    .group_size = interleaved ? two->usual_group() : 0};
    return rhythms;
}

std::int64_t spoilt_of(const std::vector<Burst>& bursts) {
    std::int64_t spoilt = 0;
    for (const Burst& burst : bursts)
        spoilt += std::count_if(burst.begin(), burst.end(), [](const Flash& flash) { return !flash.sure; });
    return spoilt;
}

std::size_t flashes_of(const std::vector<Burst>& bursts) {
    std::size_t flashes = 0;
    for (const Burst& burst : bursts)
        flashes += burst.size();
    return flashes;
}

/// Of lights that noise has not spoilt; of all, if those are too few. Where one flash in six is spoilt,
/// others are without a trace: then the scatter may be noise, and an edge of each light is late or early by
/// up to half of the shortest level that counts.
Rhythms fit_rhythms(const std::vector<Burst>& bursts, const BurstGaps& gaps, TimeUs start_us,
                    const ReadingError& reading) {
    Rhythms rhythms = fit_rhythms(cycles_of(bursts, gaps, start_us, Count::sure), reading);
    const double spoilt =
        rhythms.main ? static_cast<double>(spoilt_of(bursts)) / static_cast<double>(flashes_of(bursts)) : 1;
    if (!rhythms.main) rhythms = fit_rhythms(cycles_of(bursts, gaps, start_us, Count::any), reading);
    if (rhythms.main && 6 * spoilt > 1) {
        rhythms.main->jitter_percent.low = 0;
        widen_lit(*rhythms.main, spoilt * spoilt * 30e3);
    }
    return rhythms;
}

/// How many periods of this rhythm lie between a rise at `at_min` and the next one: 1, or 2 with a flash left
/// out; 0 if it does not keep to it.
int periods_of(const RhythmFit& rhythm, double at_min, double cycle_us) {
    const double drift_per_min = rhythm.drifts ? rhythm.drift_percent_per_min.value / 100 : 0;
    const double period_us = rhythm.period_us.value * (1 + drift_per_min * (at_min - rhythm.at_min));
    const double off_us = period_us * std::clamp(5 * rhythm.jitter_percent.value / 100, 0.1, 0.2);
    if (std::abs(cycle_us - period_us) < off_us) return 1;
    return std::abs(cycle_us - 2 * period_us) < off_us ? 2 : 0;
}

/// Of the time from rise to rise, the share that keeps to what was found. Where more than one flash in six
/// seems to be left out, none is: the period is half of the true one, and pulses stand between the flashes.
double explained_share(const std::vector<Burst>& bursts, const Rhythms& rhythms, TimeUs start_us) {
    double us[3]{};
    std::int64_t count[3]{};
    for (const Burst& burst : bursts)
        for (std::size_t i = 1; i < burst.size(); ++i) {
            const auto cycle_us = static_cast<double>(burst[i].on_us - burst[i - 1].on_us);
            const double at_min = static_cast<double>(burst[i - 1].on_us - start_us) / 60e6;
            int periods = periods_of(*rhythms.main, at_min, cycle_us);
            if (rhythms.other && periods != 1 && periods_of(rhythms.other->rhythm, at_min, cycle_us) > 0)
                periods = 1;
            us[periods] += cycle_us;
            ++count[periods];
        }
    const double all_us = us[0] + us[1] + us[2];
    return all_us > 0 ? (us[1] + (6 * count[2] > count[1] ? 0 : us[2])) / all_us : 0;
}

/// From rise to rise, those that keep to the rhythm.
std::vector<double> beats_us(const std::vector<Burst>& bursts, const RhythmFit& rhythm, TimeUs start_us) {
    std::vector<double> beats;
    for (const Burst& burst : bursts)
        for (std::size_t i = 1; i < burst.size(); ++i) {
            const auto cycle_us = static_cast<double>(burst[i].on_us - burst[i - 1].on_us);
            const double at_min = static_cast<double>(burst[i - 1].on_us - start_us) / 60e6;
            if (periods_of(rhythm, at_min, cycle_us) == 1) beats.push_back(cycle_us);
        }
    return beats;
}

/// " The left line is noisy (...)", if one is.
std::string noise_text(const Inspection& seen) {
    std::string text;
    for (const core::Side side : core::both_sides)
        if (const LineView& line = seen.lines[static_cast<std::size_t>(side)]; line.noise)
            text += fmt::format(" The {} line is noisy, {:.3g} pulses a minute under 60 ms.", name(side),
                                line.noise->per_min);
    return text;
}

Estimate share_percent(std::int64_t count, std::int64_t tries) {
    if (tries == 0) return {0, 0, 100};
    return {100 * static_cast<double>(count) / static_cast<double>(tries),
            100 * binomial_lower(count, tries, 0.025), 100 * binomial_upper(count, tries, 0.025)};
}

void count_missing(BikeFit& fit, const std::vector<Burst>& bursts, const BurstGaps& gaps) {
    std::int64_t flashes = 0; // a request's first one is never left out
    for (const Burst& burst : bursts)
        for (std::size_t i = 1; i < burst.size(); ++i) {
            ++flashes;
            fit.missing += gaps.missing(gap_before_us(burst, i));
        }
    fit.missing_flash_percent = share_percent(fit.missing, flashes + fit.missing);
}

/// Slow thermal flashers: if each first light is longer than the others can be, by how much.
std::optional<Estimate> first_on_extra(const std::vector<Burst>& bursts, const RhythmFit& rhythm,
                                       double step_us) {
    const double on_us = rhythm.on_us.value;
    const double usual_us = on_us * (1 + 5 * rhythm.jitter_percent.value / 100) + 2 * step_us;
    std::vector<double> extra_us;
    for (const Burst& burst : bursts) {
        if (burst.size() < 2 || !burst.front().has_length()) continue;
        if (burst.front().lit_us() <= usual_us) return std::nullopt;
        extra_us.push_back(burst.front().lit_us() - on_us);
    }
    if (extra_us.size() < 2) return std::nullopt;
    const auto [least, most] = std::minmax_element(extra_us.begin(), extra_us.end());
    return Estimate{(*least + *most) / 2, *least, *most};
}

} // namespace

BikeFit fit_bike(Inspection seen, const std::string& file) {
    const ReadingError reading = reading_error(seen);
    BurstGaps gaps{.most_us = static_cast<double>(core::built_in::longest_gap_us)};
    std::vector<Burst> bursts = bursts_of(seen, gaps);
    Rhythms rhythms = fit_rhythms(bursts, gaps, seen.start_us, reading);
    const double explained = rhythms.main ? explained_share(bursts, rhythms, seen.start_us) : 0;
    // a second look, with the gaps of this rhythm: two requests soon after each other are two
    if (rhythms.main && !rhythms.other) {
        gaps = gaps_of(*rhythms.main);
        std::vector<Burst> parted = bursts_of(seen, gaps);
        if (Rhythms again = fit_rhythms(parted, gaps, seen.start_us, reading); again.main) {
            rhythms = std::move(again);
            bursts = std::move(parted);
        }
    }
    if (!rhythms.main) {
        const std::size_t flashes = flashes_of(bursts);
        throw InputError(at_line(
            file, 0,
            fmt::format(
                "{} flash{} in {} run{}: no rhythm to fit; it takes four whole flashes in a row.{} See "
                "what winkhold inspect says about this recording",
                flashes, flashes == 1 ? "" : "es", bursts.size(), bursts.size() == 1 ? "" : "s",
                noise_text(seen))));
    }
    if (explained < least_explained || rhythms.main->jitter_percent.value > most_jitter_percent)
        throw InputError(at_line(
            file, 0,
            fmt::format("no rhythm to fit for certain: only {:.0f} % of the time between flashes keeps "
                        "to one, the likeliest of {:.0f} ms.{} Mend the tap, or its ground, and record "
                        "again; winkhold inspect says where to look",
                        100 * explained, rhythms.main->period_us.value / 1e3, noise_text(seen))));
    BikeFit fit;
    fit.bursts = static_cast<std::int64_t>(bursts.size());
    fit.rhythm = *rhythms.main;
    fit.set_aside = spoilt_of(bursts);
    fit.other = rhythms.other;
    if (!fit.other) count_beats(fit.rhythm, beats_us(bursts, fit.rhythm, seen.start_us));
    count_missing(fit, bursts, gaps);
    const auto step_us = static_cast<double>(seen.tick_us);
    fit.side_change = fit_side_change(bursts, fit.rhythm, step_us);
    fit.first_on_extra_us = first_on_extra(bursts, fit.rhythm, step_us);
    fit.bounce = fit_bounce(seen);
    fit.rise_skew = fit_skew(seen.skew.rise_us, step_us);
    fit.fall_skew = fit_skew(seen.skew.fall_us, step_us);
    fit.seen = std::move(seen);
    return fit;
}

} // namespace winkhold::measure
