#include "reference/settled.hpp"

#include <algorithm>

namespace winkhold::reference {
namespace {

/// The low after stretch `i`. Unit: us.
TimeUs low_after_us(const std::vector<Stretch>& stretches, std::size_t i) {
    return i + 1 < stretches.size() ? stretches[i + 1].from_us - stretches[i].to_us : never_us;
}

} // namespace

std::vector<Stretch> stretches(const host::Trace& trace, core::Lines::Tap tap) {
    std::vector<Stretch> found;
    bool high = false;
    for (const host::Edge& edge : trace.edges) {
        if (edge.lines.has(tap) == high) continue;
        high = !high;
        if (high)
            found.push_back({edge.t_us, never_us});
        else
            found.back().to_us = edge.t_us;
    }
    return found;
}

std::vector<OnPhase> settled(const std::vector<Stretch>& stretches, const core::Settings& settings) {
    const TimeUs settle_us = settings.settle_us;
    const TimeUs pwm_gap_us = settings.pwm_gap_us;
    const TimeUs dark_us = std::max(settle_us, pwm_gap_us);
    std::vector<OnPhase> phases;
    for (std::size_t first = 0; first < stretches.size();) {
        // the first high at least `settle` after the first one, no low as long as the PWM gap between
        const TimeUs counts_from_us = stretches[first].from_us + settle_us;
        std::size_t i = first;
        while (stretches[i].to_us < counts_from_us && low_after_us(stretches, i) < pwm_gap_us)
            ++i;
        if (stretches[i].to_us < counts_from_us) { // it never stood long enough
            first = i + 1;
            continue;
        }
        const TimeUs rise_us = std::max(counts_from_us, stretches[i].from_us);
        while (low_after_us(stretches, i) < dark_us)
            ++i;
        const TimeUs last_high_us = stretches[i].to_us;
        phases.push_back(
            {rise_us, last_high_us == never_us ? never_us : last_high_us + dark_us, last_high_us});
        first = i + 1;
    }
    return phases;
}

} // namespace winkhold::reference
