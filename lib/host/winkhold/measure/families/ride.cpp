#include "winkhold/measure/families/run.hpp"

#include "winkhold/measure/score/figures.hpp"

#include <algorithm>

namespace winkhold::measure {
namespace {

using core::Side;

/// From `t_us`, when the side goes out, until it is shown again, `by_us` at the latest.
TimeUs away_us(const Timeline& timeline, Side side, TimeUs t_us, TimeUs by_us) {
    const auto again = std::find_if(timeline.begin(), timeline.end(), [&](const auto& change) {
        return change.t_us > t_us && core::shows(change.indication, side);
    });
    return (again == timeline.end() ? by_us : std::min(again->t_us, by_us)) - t_us;
}

/// When the side's line has first read lit for `settle_us` within the request; never_us if it never does.
TimeUs risen_us(const Trace& trace, const Request& request, core::Lines::Tap tap, TimeUs settle_us) {
    TimeUs high_from_us = never_us;
    for (const Edge& edge : trace.edges) {
        if (high_from_us != never_us && edge.t_us >= high_from_us + settle_us)
            return high_from_us + settle_us;
        if (edge.t_us >= request.end_us) break;
        if ((edge.lines.bits() & tap) == 0)
            high_from_us = never_us;
        else if (high_from_us == never_us)
            high_from_us = std::max(edge.t_us, request.start_us);
    }
    return never_us;
}

std::int64_t lone_hazards(const Trace& trace, const Timeline& timeline, const Request& request,
                          const core::Settings& settings) {
    const TimeUs settle_us = settings.settle_us;
    const TimeUs from_us = std::max(risen_us(trace, request, core::Lines::left, settle_us),
                                    risen_us(trace, request, core::Lines::right, settle_us));
    const TimeUs longest_us = core::Settings{}.handover_us;
    std::int64_t count = 0;
    TimeUs alone_us = 0; // of this stretch; from one side to the other it goes on
    for (std::size_t i = 0; i < timeline.size(); ++i) {
        const TimeUs next_us = i + 1 < timeline.size() ? timeline[i + 1].t_us : never_us;
        const TimeUs lasts_us = std::min(next_us, request.end_us) - std::max(timeline[i].t_us, from_us);
        if (lasts_us <= 0) continue;
        const bool one = timeline[i].indication == core::Indication::left ||
                         timeline[i].indication == core::Indication::right;
        const bool counted = alone_us > longest_us;
        alone_us = one ? alone_us + lasts_us : 0;
        count += !counted && alone_us > longest_us;
    }
    return count;
}

} // namespace

void add_ride(const Ride& ride, const core::Settings& settings, FamilyFigures& figures) {
    const Timeline timeline = decode(ride.trace, settings);
    figures.requests += static_cast<std::int64_t>(ride.truth.requests.size());
    for_each_scored(ride.truth, timeline, [&](const Scored& scored) {
        figures.false_shows += scored.what == ScoredWhat::false_show;
        if (scored.what != ScoredWhat::dropout) return;
        ++figures.dropouts;
        figures.away_us += away_us(timeline, scored.side, scored.t_us, scored.asked->end_us);
    });
    for (const Request& request : ride.truth.requests)
        if (request.show == core::Indication::hazard)
            figures.lone_hazards += lone_hazards(ride.trace, timeline, request, settings);
}

} // namespace winkhold::measure
