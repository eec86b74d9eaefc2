/// Clean scenarios and level lists for hand-made moments.
#pragma once

#include "winkhold/base/range.hpp"
#include "winkhold/measure/waveform/ride.hpp"

#include <ostream>

namespace winkhold::test {

using core::Indication;
using host::TimeUs;

/// 1 s period, half lit, no jitter, no bounce, 70 ms of transit.
inline host::Scenario clean(host::SideChange model = host::SideChange::restart) {
    host::Scenario s;
    s.flasher.rate_per_min = 60;
    s.flasher.jitter_percent = 0;
    s.flasher.side_change = model;
    s.contacts.bounce_us = 0;
    return s;
}

inline host::RiderStep for_time(Indication show, TimeUs us) {
    return {show, false, {}, static_cast<double>(us)};
}

/// One left flash of 500 ms from 100 ms on, in volts, from a 12 V supply.
inline host::Scenario one_flash_in_volts() {
    host::Scenario s = clean();
    s.volts.used = true;
    s.volts.supply_v = 12;
    s.rider.script = {for_time(Indication::off, 100'000), for_time(Indication::left, 600'000),
                      for_time(Indication::off, 2'000'000)};
    return s;
}

struct Change {
    TimeUs t_us;
    int turn; ///< left 1, right 2

    bool operator==(const Change&) const = default;
    friend std::ostream& operator<<(std::ostream& out, const Change& change) {
        return out << change.t_us << ":" << change.turn;
    }
};

/// Changes of the turn taps alone.
inline std::vector<Change> changes(const host::Ride& ride) {
    std::vector<Change> list;
    for (const host::Edge& edge : ride.trace.edges)
        if (const int turn = edge.lines.bits() & 3; list.empty() || list.back().turn != turn)
            list.push_back({edge.t_us, turn});
    return list;
}

inline std::vector<Change> changes_of(const host::Scenario& scenario, std::uint64_t seed = 1) {
    host::RideMaker maker(scenario);
    return changes(maker.make(seed, 0));
}

} // namespace winkhold::test
