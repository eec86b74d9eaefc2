#include "winkhold/measure/fit/fit.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/measure/fit/detail/contact_fit.hpp"
#include "winkhold/measure/fit/detail/cycles.hpp"
#include "winkhold/measure/fit/detail/side_change_fit.hpp"

#include <algorithm>
#include <boost/math/distributions/binomial.hpp>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::measure {
namespace {

/// Each end of a phase is rounded to the clock's step, evenly; and a chopped light begins and ends anywhere
/// in its cycle C, so that its first high is late, and its last high early, by the rest of a low L: L / C of
/// all times, by L / 2 on average.
ReadingError reading_error(const Inspection& seen) {
    const auto step_us = static_cast<double>(seen.tick_us);
    ReadingError error{.variance = step_us * step_us / 6};
    for (const LineView& line : seen.lines) {
        if (!line.pwm || line.dark_chopped || error.on_short_us > 0) continue;
        const auto low_us = static_cast<double>(line.pwm->longest_low_us);
        const double cycle_us = 1e6 / line.pwm->hz;
        const double mean_us = low_us * low_us / (2 * cycle_us);
        error.on_short_us = 2 * mean_us;
        error.variance += 2 * (low_us * low_us * low_us / (3 * cycle_us) - mean_us * mean_us);
    }
    return error;
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

struct Rhythms {
    std::optional<RhythmFit> main;
    std::optional<OtherRhythm> other;
};

Rhythms fit_rhythms(const std::vector<Cycle>& cycles, const ReadingError& reading) {
    const auto two = two_rhythms(cycles);
    if (!two) return {fit_rhythm(phases_of(cycles), reading), {}};
    Rhythms rhythms{fit_rhythm(phases_of(two->slow), reading), {}};
    const auto quick = fit_rhythm(phases_of(two->quick), reading);
    if (!rhythms.main) return {quick, {}};
    if (!quick) return rhythms;
    const auto fewer = static_cast<std::int64_t>(std::min(two->slow.size(), two->quick.size()));
    const bool interleaved = two->stretches > fewer;
    rhythms.other =
        OtherRhythm{.rhythm = *quick,
                    .lamp_out = quick->rate_per_min.value > 1.33 * rhythms.main->rate_per_min.value &&
                                two->stretches <= 3,
                    .interleaved = interleaved,
                    .group_size = interleaved ? two->usual_group() : 0};
    return rhythms;
}

Estimate share_percent(std::int64_t count, std::int64_t tries) {
    using Binomial = boost::math::binomial_distribution<>;
    if (tries == 0) return {0, 0, 100};
    const auto n = static_cast<double>(tries);
    const auto k = static_cast<double>(count);
    return {100 * k / n, count == 0 ? 0 : 100 * Binomial::find_lower_bound_on_p(n, k, 0.025),
            count == tries ? 100 : 100 * Binomial::find_upper_bound_on_p(n, k, 0.025)};
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
        if (burst.size() < 2 || !burst.front().whole) continue;
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
    Rhythms rhythms = fit_rhythms(cycles_of(bursts, gaps, seen.start_us), reading);
    // a second look, with the gaps of this rhythm: two requests soon after each other are two
    if (rhythms.main && !rhythms.other) {
        gaps = gaps_of(*rhythms.main);
        std::vector<Burst> parted = bursts_of(seen, gaps);
        if (Rhythms again = fit_rhythms(cycles_of(parted, gaps, seen.start_us), reading); again.main) {
            rhythms = std::move(again);
            bursts = std::move(parted);
        }
    }
    if (!rhythms.main) {
        std::size_t flashes = 0;
        for (const Burst& burst : bursts)
            flashes += burst.size();
        throw InputError(at_line(
            file, 0,
            fmt::format("{} flash{} in {} run{}: no rhythm to fit; it takes four whole flashes in a row. See "
                        "what winkhold inspect says about this recording",
                        flashes, flashes == 1 ? "" : "es", bursts.size(), bursts.size() == 1 ? "" : "s")));
    }
    BikeFit fit;
    fit.bursts = static_cast<std::int64_t>(bursts.size());
    fit.rhythm = *rhythms.main;
    fit.other = rhythms.other;
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
