/// Bikes drawn from a seed, and what a recording of each says about it.
#pragma once

#include "winkhold/measure/fit/fit.hpp"
#include "winkhold/measure/waveform/random.hpp"
#include "winkhold/measure/waveform/ride.hpp"

namespace winkhold::test {

using core::Indication;
using host::TimeUs;

inline host::RiderStep flashes(Indication show, double least, double most) {
    return {.show = show, .by_flashes = true, .flashes = {least, most}};
}
inline host::RiderStep rest(double for_us) {
    return {.show = Indication::off, .for_us = for_us};
}

/// A few minutes of traffic: requests, side changes, hazards.
inline host::RiderModel some_riding(int repeat) {
    host::RiderModel rider;
    rider.script = {rest(500e3),
                    flashes(Indication::left, 4, 9),
                    flashes(Indication::right, 4, 9),
                    rest(2e6),
                    flashes(Indication::hazard, 4, 6),
                    rest(2e6),
                    flashes(Indication::right, 4, 9),
                    flashes(Indication::left, 4, 9),
                    rest(2e6)};
    rider.repeat = repeat;
    return rider;
}

/// One bike of the axes that the facts name, with a recording clock of 1 us.
inline host::Scenario drawn_bike(std::uint64_t seed) {
    host::RandomStream random(seed, 0x666974);
    const auto from = [&](double least, double most) { return least + (most - least) * random.unit(); };
    host::Scenario bike;
    bike.flasher.rate_per_min = 60e3 / from(500, 1'100);
    bike.flasher.duty_percent = from(30, 70);
    bike.flasher.jitter_percent = from(0.2, 8);
    bike.flasher.side_change = static_cast<host::SideChange>(random.whole(0, 2));
    bike.flasher.drift_percent_per_min = random.whole(0, 1) == 0 ? 0 : from(-10, 10);
    bike.contacts.bounce_us = random.whole(500, 15'000);
    bike.contacts.bounce_pulses = static_cast<int>(random.whole(1, 6));
    bike.contacts.rise_skew_us = {from(0, 5e3), from(6e3, 40e3)};
    bike.contacts.fall_skew_us = {from(0, 10e3), from(15e3, 80e3)};
    bike.rider = some_riding(static_cast<int>(random.whole(1, 4)));
    bike.rider.transit_us = from(20e3, 200e3);
    return bike;
}

inline host::Inspection inspected(const host::Trace& trace) {
    host::Inspector inspector;
    for (const host::Edge& edge : trace.edges)
        inspector.feed(edge);
    return inspector.finish(trace.end_us);
}

inline host::BikeFit fitted(const host::Trace& trace) {
    return host::fit_bike(inspected(trace), "recording");
}

/// The same recording, with each time rounded down to a clock's step; a level shorter than that may vanish.
inline host::Trace in_steps_of(TimeUs step_us, const host::Trace& trace) {
    host::Trace coarse;
    for (host::Edge edge : trace.edges) {
        edge.t_us -= edge.t_us % step_us;
        if (!coarse.edges.empty() && coarse.edges.back().t_us == edge.t_us)
            coarse.edges.back() = edge;
        else
            coarse.edges.push_back(edge);
    }
    coarse.end_us = trace.end_us - trace.end_us % step_us;
    return coarse;
}

} // namespace winkhold::test
