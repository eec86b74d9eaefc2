/// Implementation of for_each_event(), see figures.hpp.
#pragma once

#include "winkhold/measure/score/figures.hpp"

#include <algorithm>

namespace winkhold::measure {

/// Changes of sides further apart than the longest hold can't overlap.
inline constexpr TimeUs longest_change_us = core::built_in::longest_hold_us;

/// A light that ends as it settles may begin to show this much later (an old hand switch bounces up to 20 ms,
/// common practice).
inline constexpr TimeUs longest_bounce_us = 20'000;

template <class Asked, class Changed>
void for_each_event(const Truth& truth, Asked&& asked, Changed&& changed) {
    const std::vector<Request>& requests = truth.requests;
    for (std::size_t i = 0; i < requests.size(); ++i) {
        const Request& now = requests[i];
        const Request* const before = i > 0 ? &requests[i - 1] : nullptr;
        const Request* const next = i + 1 < requests.size() ? &requests[i + 1] : nullptr;
        for (const core::Side side : {core::Side::left, core::Side::right}) {
            if (!core::shows(now.show, side)) continue;
            const bool carried_on =
                before != nullptr && before->end_us == now.start_us && core::shows(before->show, side);
            const bool goes_on =
                next != nullptr && next->start_us == now.end_us && core::shows(next->show, side);
            TimeUs gone_by_us = truth.end_us;
            for (std::size_t k = i + 1; k < requests.size(); ++k)
                if (core::shows(requests[k].show, side)) {
                    gone_by_us = requests[k].start_us;
                    break;
                }
            asked(AskedSide{.side = side,
                            .start_us = now.start_us,
                            .watched_from_us = carried_on ? now.start_us : now.first_light_us,
                            .end_us = now.end_us,
                            .first_light_us = now.first_light_us,
                            .shown_by_us = next != nullptr ? next->start_us : truth.end_us,
                            .lit = now.flashes > 0,
                            .released = !goes_on && now.end_us < truth.end_us,
                            .gone_by_us = gone_by_us,
                            .covered_until_us =
                                std::max(now.end_us, now.last_light_off_us) + longest_bounce_us});
        }
        const auto single = [](core::Indication show) { return show != core::Indication::hazard; };
        if (before != nullptr && single(before->show) && single(now.show) && before->show != now.show &&
            now.start_us - before->end_us <= longest_change_us)
            changed(Change{before->end_us, now.end_us});
    }
}

} // namespace winkhold::measure
