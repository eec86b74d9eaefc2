/// Random scenarios and random noise, far beyond what any sound bike does, for laws that must always hold.
#pragma once

#include "winkhold/measure/waveform/random.hpp"
#include "winkhold/measure/waveform/ride.hpp"

#include <algorithm>

namespace winkhold::testing {

using host::RandomStream;
using host::TimeUs;

inline core::Settings random_settings(RandomStream& random) {
    core::Settings s;
    s.settle_us = static_cast<std::uint32_t>(random.whole(0, 3) == 0 ? 0 : random.whole(0, 20'000));
    s.pwm_gap_us = static_cast<std::uint32_t>(random.whole(0, 3) == 0 ? random.whole(1, 25'000) : 0);
    s.hold_us = static_cast<std::uint32_t>(random.whole(60'000, 1'200'000));
    s.guard_us = static_cast<std::uint32_t>(random.whole(0, 150'000));
    s.handover_us = static_cast<std::uint32_t>(random.whole(0, 2) == 0 ? 0 : random.whole(1, 120'000));
    s.cut_margin_us = static_cast<std::uint32_t>(random.whole(0, 80'000));
    s.rule = random.whole(0, 1) == 0 ? core::HoldRule::fixed : core::HoldRule::paced;
    s.cut_short = random.whole(0, 3) != 0;
    s.spread = random.whole(0, 1) == 0;
    s.fall_window_us = static_cast<std::uint32_t>(random.whole(0, 2) == 0 ? 0 : random.whole(1, 150'000));
    s.gap_prior_us = static_cast<std::uint32_t>(random.whole(0, 2) == 0 ? random.whole(25'000, 900'000) : 0);
    s.supply_gone_us = static_cast<std::uint32_t>(random.whole(0, 3) == 0 ? 0 : random.whole(1, 200'000));
    return s;
}

inline host::Scenario random_scenario(RandomStream& random, host::SideChange model) {
    host::Scenario scenario;
    const double rate = 40 + 180 * random.unit();
    scenario.flasher.rate_per_min = {rate, rate};
    const double duty = 20 + 60 * random.unit();
    scenario.flasher.duty_percent = {duty, duty};
    scenario.flasher.jitter_percent = random.whole(0, 2) == 0 ? 0 : 15 * random.unit();
    scenario.flasher.side_change = model;
    scenario.flasher.start_delay_us = random.whole(0, 20'000);
    if (random.whole(0, 3) == 0)
        scenario.flasher.lamp_out_after_flashes = static_cast<int>(random.whole(1, 8));
    scenario.contacts.bounce_us = random.whole(0, 1) == 0 ? 0 : random.whole(100, 20'000);
    scenario.contacts.bounce_pulses = static_cast<int>(random.whole(1, 4));
    scenario.contacts.rise_skew_us = {0, static_cast<double>(random.whole(0, 60'000))};
    scenario.contacts.fall_skew_us = {0, static_cast<double>(random.whole(0, 90'000))};
    scenario.rider.transit_us = random.whole(0, 200'000);
    scenario.rider.script.push_back({core::Indication::off, false, {}, {200'000, 200'000}});
    for (int i = 0; i < 7; ++i) {
        host::RiderStep step;
        step.show = static_cast<core::Indication>(random.whole(0, 3));
        step.by_flashes = random.whole(0, 1) == 0;
        step.flashes = {static_cast<double>(random.whole(0, 2)), static_cast<double>(random.whole(2, 6))};
        step.for_us = {0, static_cast<double>(random.whole(1, 2'500'000))};
        scenario.rider.script.push_back(step);
    }
    return scenario;
}

/// Edges and a truth that have nothing to do with each other.
inline host::Ride noise(RandomStream& random) {
    host::Ride ride;
    TimeUs t_us = random.whole(0, 5'000);
    const TimeUs longest_us = random.whole(0, 1) == 0 ? 30'000 : 700'000;
    for (int i = 0; i < 120; ++i) {
        const bool supply = random.whole(0, 9) != 0;
        ride.trace.edges.push_back(
            {t_us,
             core::Lines(static_cast<std::uint8_t>(random.whole(0, 3))).with(core::Lines::supply, supply)});
        t_us += random.whole(1, random.whole(0, 3) == 0 ? longest_us : 12'000);
    }
    ride.trace.end_us = ride.truth.end_us = t_us;
    TimeUs from_us = 0;
    while (true) {
        from_us += random.whole(0, 1) == 0 ? 0 : random.whole(1, 800'000);
        const TimeUs to_us = from_us + random.whole(1, 900'000);
        if (to_us > t_us) break;
        host::Request request;
        request.show = static_cast<core::Indication>(random.whole(1, 3));
        request.start_us = from_us;
        request.end_us = to_us;
        request.flashes = static_cast<int>(random.whole(0, 3));
        request.first_light_us = request.flashes > 0 ? random.whole(from_us, to_us - 1) : to_us;
        request.last_light_on_us = request.first_light_us;
        request.last_light_off_us = to_us + random.whole(-100'000, 100'000);
        ride.truth.requests.push_back(request);
        from_us = to_us;
    }
    return ride;
}

} // namespace winkhold::testing
