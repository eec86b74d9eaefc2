#include "winkhold/bike/limits/observed.hpp"

#include <algorithm>

namespace winkhold::bike {
namespace {

/// One step: so many lamps at one moment.
struct Step {
    TimeUs t_us;
    std::int64_t lamps;
};

std::vector<Step> steps_of(std::vector<TimeUs> lit_us) {
    std::sort(lit_us.begin(), lit_us.end());
    std::vector<Step> steps;
    for (const TimeUs t_us : lit_us)
        if (!steps.empty() && steps.back().t_us == t_us)
            ++steps.back().lamps;
        else if (t_us != never_us)
            steps.push_back({t_us, 1});
    return steps;
}

bool is_uniform(const std::vector<Step>& steps) {
    constexpr TimeUs alike_us = 1'000;
    for (std::size_t i = 1; i < steps.size(); ++i) {
        const TimeUs first_us = steps[1].t_us - steps[0].t_us;
        const TimeUs this_us = steps[i].t_us - steps[i - 1].t_us;
        if (std::abs(this_us - first_us) > alike_us || steps[i].lamps != steps[0].lamps) return false;
    }
    return true;
}

} // namespace

LampFlash lamp_flash(const std::vector<TimeUs>& lit_us, const std::vector<TimeUs>& dark_us, TimeUs end_us) {
    LampFlash flash;
    flash.start_us = *std::min_element(lit_us.begin(), lit_us.end());
    flash.end_us = end_us;
    flash.full_us = *std::max_element(lit_us.begin(), lit_us.end());
    flash.latched = std::none_of(dark_us.begin(), dark_us.end(), [&](TimeUs t_us) { return t_us < end_us; });
    flash.outward = std::is_sorted(lit_us.begin(), lit_us.end());
    flash.uniform = is_uniform(steps_of(lit_us));
    return flash;
}

} // namespace winkhold::bike
