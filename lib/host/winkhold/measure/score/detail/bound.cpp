#include "winkhold/measure/score/detail/bound.hpp"

#include "winkhold/base/statistics/detail/quantiles.hpp"

#include <algorithm>

namespace winkhold::measure {
namespace {

struct Bound {
    const Scenario& scenario;
    const Bike& bike;
    TimeUs bounce_us;
    TimeUs settle_us;
    TimeUs skew_us;

    /// When the end of the request is certain from its own side's line alone.
    TimeUs off_certain_us(const Request& request) const {
        static const double z = normal_quantile(1 - 1e-6);
        const double spread = z * scenario.flasher.jitter_percent / 100;
        const double on_us = request.lamp_out ? bike.lamp_out_on_us : bike.on_us;
        const double dark_us = request.lamp_out ? bike.lamp_out_dark_us : bike.dark_us;
        const TimeUs seen_us = request.last_light_off_us + bounce_us + settle_us;
        const bool cut =
            scenario.flasher.side_change != SideChange::whole_cycle &&
            request.last_light_off_us == request.end_us &&
            static_cast<double>(request.last_light_off_us - request.last_light_on_us) < on_us * (1 - spread);
        return cut ? seen_us : seen_us + static_cast<TimeUs>(dark_us * (1 + spread));
    }
};

} // namespace

void add_bound(const Scenario& scenario, const Ride& ride, Figures& figures, TimeUs from_us,
               TimeUs before_us) {
    const Bound bound{scenario, ride.bike, scenario.contacts.bounce_us, scenario.decoder.settle_us,
                      scenario.decoder.handover_us};
    const auto single = [](const Request& request) { return request.show != core::Indication::hazard; };
    const auto& requests = ride.truth.requests;
    for (std::size_t i = 0; i < requests.size(); ++i) {
        const Request& request = requests[i];
        if (request.start_us < from_us || request.start_us >= before_us) continue;
        const Request* const next = i + 1 < requests.size() ? &requests[i + 1] : nullptr;
        const int sides = single(request) ? 1 : 2;
        const TimeUs acquire_us = bound.bounce_us + bound.settle_us + (sides == 2 ? bound.skew_us : 0);
        if (request.flashes > 0) figures.acquire_us.insert(figures.acquire_us.end(), sides, acquire_us);
        if (request.end_us >= ride.truth.end_us) continue;
        TimeUs certain_us = request.flashes > 0 ? bound.off_certain_us(request) : request.end_us;
        const bool changed = next != nullptr && next->start_us - request.end_us <= longest_change_us &&
                             single(request) && single(*next) && next->show != request.show;
        if (changed) {
            if (next->flashes > 0)
                certain_us = std::min(certain_us, next->first_light_us + bound.skew_us + bound.bounce_us);
            const TimeUs both_from_us = next->first_light_us + bound.bounce_us + bound.settle_us;
            figures.overlap_us.push_back(std::clamp<TimeUs>(certain_us - both_from_us, 0, bound.skew_us));
        }
        figures.release_us.insert(figures.release_us.end(), sides,
                                  std::max<TimeUs>(0, certain_us - request.end_us));
    }
}

} // namespace winkhold::measure
