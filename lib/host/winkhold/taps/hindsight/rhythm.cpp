#include "winkhold/taps/hindsight/rhythm.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace winkhold::taps {
namespace {

// Shares of the cases; common practice, no source. The answer hardly depends on them: an ordinary gap is
// hundreds of times likelier within a request than between two.
constexpr double odd_light = 0.1;
constexpr double short_gap = 0.03;
constexpr double missing_flash = 0.02;

double normal_density(double us, const PhaseLength& length) {
    const double z = (us - length.centre_us) / length.spread_us;
    return std::exp(-z * z / 2) * std::numbers::inv_sqrtpi / std::numbers::sqrt2 / (length.spread_us / 1e6);
}

/// The chance of a length beyond `us`.
double normal_beyond(double us, const PhaseLength& length) {
    return std::erfc((us - length.centre_us) / length.spread_us / std::numbers::sqrt2) / 2;
}

/// Log-logistic; never 0, so no light is impossible, however long.
double any_density(double us, double median_us) {
    const double r = us / median_us;
    return 2 * r / ((1 + r * r) * (1 + r * r)) / (median_us / 1e6);
}
double any_beyond(double us, double median_us) {
    const double r = us / median_us;
    return 1 / (1 + r * r);
}

double longest(const PhaseLength& length) {
    constexpr double normal_quantile = 4.753424; // of 1 - 1e-6 (tables of the normal distribution, derived)
    return length.centre_us + normal_quantile * length.spread_us;
}

PhaseLength two_gaps(const Rhythm& rhythm) {
    const double dark_us = rhythm.dark.spread_us;
    const double on_us = rhythm.on.spread_us;
    return {2 * rhythm.dark.centre_us + rhythm.on.centre_us,
            std::sqrt(2 * dark_us * dark_us + on_us * on_us)};
}

double one_gap(const Rhythm& rhythm, double gap_us) {
    return (1 - short_gap - missing_flash) * normal_density(gap_us, rhythm.dark);
}

double gap_within(const Rhythm& rhythm, double gap_us) {
    const double shorter_us = rhythm.dark.centre_us + 4 * rhythm.dark.spread_us;
    return one_gap(rhythm, gap_us) + missing_flash * normal_density(gap_us, two_gaps(rhythm)) +
           (gap_us < shorter_us ? short_gap / (shorter_us / 1e6) : 0);
}

double light_within(const Rhythm& rhythm, double on_us) {
    return (1 - odd_light) * normal_density(on_us, rhythm.on) +
           odd_light * any_density(on_us, rhythm.on.centre_us);
}

constexpr double between_median_us = 2e6;

} // namespace

double Rhythm::log_light_within(double on_us) const {
    return std::log(light_within(*this, on_us));
}

double Rhythm::log_light_last(double on_us) const {
    const double duty = on.centre_us / (on.centre_us + dark.centre_us);
    const double cut = normal_beyond(on_us, on) / (on.centre_us / 1e6);
    return std::log(duty * cut + (1 - duty) * light_within(*this, on_us));
}

double Rhythm::log_light_open(double on_us) const {
    return std::log((1 - odd_light) * normal_beyond(on_us, on) + odd_light * any_beyond(on_us, on.centre_us));
}

double Rhythm::log_gap_within(double gap_us) const {
    return std::log(gap_within(*this, gap_us));
}

double Rhythm::log_gap_open(double gap_us) const {
    const double shorter_us = dark.centre_us + 4 * dark.spread_us;
    return std::log((1 - short_gap - missing_flash) * normal_beyond(gap_us, dark) +
                    missing_flash * normal_beyond(gap_us, two_gaps(*this)) +
                    short_gap * std::max(0.0, 1 - gap_us / shorter_us));
}

double Rhythm::ordinary_light(double on_us) const {
    return (1 - odd_light) * normal_density(on_us, on) / light_within(*this, on_us);
}

double Rhythm::ordinary_gap(double gap_us) const {
    const double within = gap_within(*this, gap_us);
    return within > 0 ? one_gap(*this, gap_us) / within : 0;
}

double Rhythm::longest_gap_us() const {
    return longest(dark);
}

double Rhythm::longest_on_us() const {
    return longest(on);
}

double log_gap_between(double gap_us) {
    const double r = gap_us / between_median_us;
    return std::log(3 * r * r / (between_median_us / 1e6)) - 2 * std::log1p(r * r * r);
}

double log_gap_between_open(double gap_us) {
    const double r = gap_us / between_median_us;
    return -std::log1p(r * r * r);
}

void LengthEstimate::add(double weight, double us) {
    weight_ += weight;
    sum_us_ += weight * us;
    squares_us_ += weight * us * us;
}

PhaseLength LengthEstimate::over(const PhaseLength& before) const {
    const double weight = weight_ + 1;
    const double centre_us = (sum_us_ + before.centre_us) / weight;
    const double spread_us = std::max(before.spread_us, 0.1 * before.centre_us);
    const double squares_us = squares_us_ - 2 * centre_us * sum_us_ + weight_ * centre_us * centre_us;
    return {centre_us,
            std::max(1'000.0, std::sqrt((std::max(0.0, squares_us) + spread_us * spread_us) / weight))};
}

} // namespace winkhold::taps
