#include "winkhold/measure/fit/detail/rhythm_fit.hpp"

#include "winkhold/base/statistics/detail/median.hpp"
#include "winkhold/base/statistics/detail/quantiles.hpp"

#include <Eigen/Core>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <set>

namespace winkhold::measure {
namespace {

constexpr double mad_to_sigma = 1.4826; // Hampel, J. Am. Stat. Assoc. 69 (1974) 383

double median_of(const std::vector<SeenPhase>& phases, bool lit) {
    std::vector<double> lengths;
    for (const SeenPhase& phase : phases)
        if (phase.lit == lit) lengths.push_back(phase.us);
    return median(std::move(lengths));
}

std::int64_t count_of(const std::vector<SeenPhase>& phases, bool lit) {
    return std::count_if(phases.begin(), phases.end(), [=](const SeenPhase& p) { return p.lit == lit; });
}

std::vector<SeenPhase> without_odd(const std::vector<SeenPhase>& phases, double reading_us) {
    const double middle_us[2]{median_of(phases, false), median_of(phases, true)};
    std::vector<double> off;
    for (const SeenPhase& phase : phases)
        off.push_back(std::abs(phase.us / middle_us[phase.lit] - 1));
    // so few phases say little about their own deviation
    const double least = phases.size() < 8 ? 0.3 : 0.03;
    const double widest = std::max(4 * mad_to_sigma * median(off), least);
    std::set<int> odd;
    for (std::size_t i = 0; i < phases.size(); ++i)
        if (off[i] > widest + 3 * reading_us / middle_us[phases[i].lit]) odd.insert(phases[i].place);
    std::vector<SeenPhase> kept;
    std::copy_if(phases.begin(), phases.end(), std::back_inserter(kept), [&](const SeenPhase& phase) {
        return !odd.contains(phase.place - 1) && !odd.contains(phase.place) && !odd.contains(phase.place + 1);
    });
    return kept;
}

/// Means and drift with their covariance, relative to the means.
struct Solved {
    double on_us, dark_us, drift_per_min, at_min;
    double variance; ///< of the residuals, per degree of freedom
    Eigen::Matrix3d inverse;
    double degrees;
};

Solved solve(const std::vector<SeenPhase>& phases, bool with_drift) {
    const auto n = static_cast<double>(phases.size());
    double at_min = 0;
    for (const SeenPhase& phase : phases)
        at_min += phase.at_min / n;
    Solved now{.on_us = median_of(phases, true),
               .dark_us = median_of(phases, false),
               .drift_per_min = 0,
               .at_min = at_min,
               .variance = 0,
               .inverse = Eigen::Matrix3d::Zero(),
               .degrees = n - (with_drift ? 3 : 2)};
    // The normal equations, of fixed size: a drift that isn't asked for is a third one that says 0 = 0. The
    // times are centred, so they are as well conditioned as the slopes themselves.
    Eigen::Matrix3d normal;
    Eigen::Vector3d along;
    double squares = 0;
    const auto linearise = [&] {
        normal = Eigen::Vector3d(0, 0, with_drift ? 0 : 1).asDiagonal();
        along.setZero();
        squares = 0;
        for (const SeenPhase& phase : phases) {
            const double grown = 1 + now.drift_per_min * (phase.at_min - at_min);
            const double residual = phase.us / ((phase.lit ? now.on_us : now.dark_us) * grown) - 1;
            const Eigen::Vector3d slope(phase.lit ? 1 : 0, phase.lit ? 0 : 1,
                                        with_drift ? (phase.at_min - at_min) / grown : 0);
            normal += slope * slope.transpose();
            along += residual * slope;
            squares += residual * residual;
        }
    };
    constexpr int rounds = 8; // two or three are enough even for 15 % of jitter
    for (int round = 0; round < rounds; ++round) {
        linearise();
        const Eigen::Vector3d step = normal.inverse() * along;
        now.on_us *= 1 + step(0);
        now.dark_us *= 1 + step(1);
        now.drift_per_min += step(2);
    }
    linearise();
    now.variance = squares / now.degrees;
    now.inverse = normal.inverse();
    return now;
}

bool drift_can_be_told(const std::vector<SeenPhase>& phases) {
    const auto [first, last] = std::minmax_element(
        phases.begin(), phases.end(), [](const auto& a, const auto& b) { return a.at_min < b.at_min; });
    return phases.size() >= 8 && last->at_min > first->at_min;
}

Estimate jitter(const Solved& solved, double reading_share) {
    const double squares = solved.variance * solved.degrees;
    const auto percent = [&](double variance) {
        return 100 * std::sqrt(std::max(0.0, variance - reading_share));
    };
    return {percent(solved.variance), percent(squares / chi_squared_quantile(solved.degrees, 0.975)),
            percent(squares / chi_squared_quantile(solved.degrees, 0.025))};
}

} // namespace

std::optional<RhythmFit> fit_rhythm(const std::vector<SeenPhase>& seen, const ReadingError& reading) {
    if (count_of(seen, true) < 1 || count_of(seen, false) < 2) return std::nullopt;
    const std::vector<SeenPhase> phases = without_odd(seen, std::sqrt(reading.variance));
    RhythmFit fit;
    fit.on_count = count_of(phases, true);
    fit.dark_count = count_of(phases, false);
    fit.odd = static_cast<std::int64_t>(seen.size() - phases.size());
    if (fit.on_count < 1 || fit.dark_count < 2) return std::nullopt;

    const bool with_drift = drift_can_be_told(phases);
    const Solved solved = solve(phases, with_drift);
    const double t = t_quantile(solved.degrees, 0.975);
    const auto around = [&](double value, double deviation) {
        return Estimate{value, value - t * deviation, value + t * deviation};
    };
    const auto covariance = [&](int a, int b) { return solved.variance * solved.inverse(a, b); };
    const double on_us = solved.on_us;
    const double dark_us = solved.dark_us;
    const double period_us = on_us + dark_us;
    // of the means, in us
    const double on_var = solved.on_us * solved.on_us * covariance(0, 0);
    const double dark_var = solved.dark_us * solved.dark_us * covariance(1, 1);
    const double both_var = solved.on_us * solved.dark_us * covariance(0, 1);
    fit.at_min = solved.at_min;
    fit.on_us = around(on_us, std::sqrt(on_var));
    fit.dark_us = around(dark_us, std::sqrt(dark_var));
    fit.period_us = around(period_us, std::sqrt(on_var + dark_var + 2 * both_var));
    fit.rate_per_min = {60e6 / period_us, 60e6 / fit.period_us.high, 60e6 / std::max(1.0, fit.period_us.low)};
    const double duty_var =
        (dark_us * dark_us * on_var + on_us * on_us * dark_var - 2 * on_us * dark_us * both_var) /
        std::pow(period_us, 4);
    fit.duty_percent = around(100 * on_us / period_us, 100 * std::sqrt(std::max(0.0, duty_var)));
    if (reading.on_short_us > 0) fit.jitter_percent.high = jitter(solved, 0).high;
    fit.on_us.high += reading.on_short_us;
    fit.dark_us.low -= reading.on_short_us;
    fit.duty_percent.high += 100 * reading.on_short_us / period_us;
    double share = 0;
    for (const SeenPhase& phase : phases)
        share += reading.variance / (phase.us * phase.us) / static_cast<double>(phases.size());
    fit.jitter_percent = jitter(solved, share);
    fit.drift_percent_per_min = {0, -100, 100};
    if (with_drift) {
        const double deviation = 100 * std::sqrt(covariance(2, 2));
        fit.drift_percent_per_min = around(100 * solved.drift_per_min, deviation);
        fit.drifts = std::abs(100 * solved.drift_per_min) > t_quantile(solved.degrees, 0.995) * deviation;
    }
    return fit;
}

void count_beats(RhythmFit& fit, std::vector<double> cycles_us) {
    constexpr std::size_t least = 8;
    if (cycles_us.size() < least) return;
    const double usual_us = median(cycles_us);
    std::vector<double> off_us;
    for (const double cycle_us : cycles_us)
        off_us.push_back(std::abs(cycle_us - usual_us));
    // rises that a chopped line, or a coarse clock, puts on a raster have next to no median deviation
    const double widest_us = std::max(4 * mad_to_sigma * median(std::move(off_us)), 0.06 * usual_us);
    std::erase_if(cycles_us, [&](double us) { return std::abs(us - usual_us) > widest_us; });
    if (cycles_us.size() < least) return;
    const auto n = static_cast<double>(cycles_us.size());
    double mean_us = 0, squares = 0;
    for (const double us : cycles_us)
        mean_us += us / n;
    for (const double us : cycles_us)
        squares += std::pow(us - mean_us, 2);
    const double deviation_us = std::sqrt(squares / (n - 1));
    const double independent_us =
        fit.jitter_percent.value / 100 * std::hypot(fit.on_us.value, fit.dark_us.value);
    if (3 * deviation_us >= 2 * independent_us) return;
    const double off = t_quantile(n - 1, 0.975) * deviation_us / std::sqrt(n);
    fit.period_us = {mean_us, mean_us - off, mean_us + off};
    fit.rate_per_min = {60e6 / mean_us, 60e6 / (mean_us + off), 60e6 / (mean_us - off)};
    fit.dark_us = {mean_us - fit.on_us.value, mean_us - off - fit.on_us.high, mean_us + off - fit.on_us.low};
    fit.duty_percent = {100 * fit.on_us.value / mean_us, 100 * fit.on_us.low / (mean_us + off),
                        100 * fit.on_us.high / (mean_us - off)};
}

void widen_lit(RhythmFit& fit, double by_us) {
    const double percent = 100 * by_us / fit.period_us.value;
    for (const auto& [estimate, by] : {std::pair(&fit.on_us, by_us), std::pair(&fit.dark_us, by_us),
                                       std::pair(&fit.duty_percent, percent)}) {
        estimate->low -= by;
        estimate->high += by;
    }
}

} // namespace winkhold::measure
