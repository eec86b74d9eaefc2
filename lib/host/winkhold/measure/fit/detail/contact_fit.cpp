#include "winkhold/measure/fit/detail/contact_fit.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::measure {
namespace {

struct Bounds {
    double low_us{0};
    double high_us{1e9};
};

void narrow(Bounds& bounds, const std::vector<std::int32_t>& changes_us, double step_us) {
    const auto changes = static_cast<double>(changes_us.size());
    for (std::size_t i = 0; i < changes_us.size(); ++i) {
        const double t_us = changes_us[i];
        const auto j = static_cast<double>(i);
        bounds.low_us = std::max(bounds.low_us, (t_us - step_us) * changes / (j + 1));
        if (i > 0) bounds.high_us = std::min(bounds.high_us, (t_us + step_us) * changes / j);
    }
}

} // namespace

BounceFit fit_bounce(const Inspection& seen) {
    BounceFit fit;
    Bounds bounds;
    std::size_t most_changes = 0;
    double worst_us = 0;
    for (const LineView& line : seen.lines) {
        if (line.pwm || line.dark_chopped) continue;
        for (const SeenLight& light : line.lights) {
            if (light.from_start || light.lit_us() < 2 * unrest_us) continue;
            ++fit.rises;
            narrow(bounds, light.rise_changes_us, static_cast<double>(seen.tick_us));
            most_changes = std::max(most_changes, light.rise_changes_us.size());
            worst_us = std::max(worst_us, static_cast<double>(light.rise_settles_us()));
        }
    }
    if (worst_us == 0) return fit;
    const double beyond = std::pow(0.05, -1 / static_cast<double>(fit.rises));
    fit.like_model = bounds.low_us <= bounds.high_us;
    if (fit.like_model)
        fit.bounce_us = {(bounds.low_us + bounds.high_us) / 2, bounds.low_us, bounds.high_us};
    else
        fit.bounce_us = {worst_us, worst_us, worst_us * beyond};
    const auto pulses = std::floor(static_cast<double>(most_changes) / 2);
    fit.pulses = {std::max(1.0, pulses), std::max(1.0, pulses), std::floor(std::max(1.0, pulses) * beyond)};
    return fit;
}

std::optional<SkewFit> fit_skew(const std::vector<TimeUs>& figures_us, double step_us) {
    if (figures_us.size() < 3) return std::nullopt;
    const auto [least, most] = std::minmax_element(figures_us.begin(), figures_us.end());
    const auto low_us = static_cast<double>(*least);
    const auto high_us = static_cast<double>(*most);
    const auto n = static_cast<double>(figures_us.size());
    const double range_us = high_us - low_us;
    const auto beyond_us = [&](double chance) { return range_us * (std::pow(chance, -1 / (n - 1)) - 1); };
    const double near_us = beyond_us(0.975) - step_us;
    const double far_us = beyond_us(0.025) + step_us;
    const double middle_us = beyond_us(0.5);
    return SkewFit{.flashes = static_cast<std::int64_t>(figures_us.size()),
                   .least_us = {low_us - middle_us, low_us - far_us, low_us - near_us},
                   .most_us = {high_us + middle_us, high_us + near_us, high_us + far_us}};
}

} // namespace winkhold::measure
