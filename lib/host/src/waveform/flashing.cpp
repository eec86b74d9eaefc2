#include "waveform/flashing.hpp"

#include <algorithm>

namespace winkhold::host {

using core::Indication;

void Flashing::light_up() {
    maker_.lights_.clear();
    switch (model_.side_change) {
    case SideChange::restart:
        return restart();
    case SideChange::free_running:
        return free_running();
    case SideChange::whole_cycle:
        return whole_cycle();
    }
}

void Flashing::restart() {
    auto& requests = maker_.ride_.truth.requests;
    for (std::size_t i = 0; i < requests.size(); ++i) {
        Request& request = requests[i];
        TimeUs t_us = closes_us(i) + model_.start_delay_us + model_.first_dark_us;
        TimeUs extra_us = model_.first_on_extra_us;
        while (t_us < request.end_us) {
            const Phase phase = next_phase();
            const TimeUs off_us = t_us + phase.on_us + extra_us;
            light(request, t_us, std::min(off_us, request.end_us));
            t_us = off_us + phase.dark_us;
            extra_us = 0;
        }
    }
}

void Flashing::free_running() {
    auto& requests = maker_.ride_.truth.requests;
    // the oscillator has run since long before the ride: start it at a random point of its period
    TimeUs t_us = -static_cast<TimeUs>(random_.unit() * maker_.ride_.bike.period_us());
    Phase phase = next_phase();
    for (std::size_t i = 0; i < requests.size(); ++i) {
        Request& request = requests[i];
        const TimeUs opens_us = closes_us(i);
        while (true) {
            const TimeUs on_us = std::max(t_us, opens_us);
            const TimeUs off_us = std::min(t_us + phase.on_us, request.end_us);
            if (on_us < off_us) light(request, on_us, off_us);
            if (t_us + phase.on_us + phase.dark_us >= request.end_us) break; // the next request may share it
            t_us += phase.on_us + phase.dark_us;
            phase = next_phase();
        }
    }
}

void Flashing::whole_cycle() {
    auto& requests = maker_.ride_.truth.requests;
    TimeUs idle_from_us = 0;
    for (std::size_t i = 0; i < requests.size(); ++i) {
        Request& request = requests[i];
        TimeUs t_us = std::max(idle_from_us, closes_us(i) + model_.start_delay_us + model_.first_dark_us);
        while (t_us < request.end_us) {
            const Phase phase = next_phase();
            light(request, t_us, t_us + phase.on_us);
            t_us += phase.on_us + phase.dark_us;
            idle_from_us = t_us;
        }
    }
}

TimeUs Flashing::closes_us(std::size_t request) const {
    const auto& requests = maker_.ride_.truth.requests;
    const Request& now = requests[request];
    if (request == 0) return now.start_us;
    const Request& before = requests[request - 1];
    // the hazard switch is a button of its own; only from side to side does the lever travel
    const bool travels = before.end_us == now.start_us && before.show != now.show &&
                         before.show != Indication::hazard && now.show != Indication::hazard;
    return now.start_us + (travels ? maker_.scenario_.rider.transit_us : 0);
}

Flashing::Phase Flashing::next_phase() {
    const bool lamp_out = model_.lamp_out_after_flashes > 0 && flashes_ >= model_.lamp_out_after_flashes;
    const Bike& bike = maker_.ride_.bike;
    ++flashes_;
    double on_us = lamp_out ? bike.lamp_out_on_us : bike.on_us;
    double dark_us = lamp_out ? bike.lamp_out_dark_us : bike.dark_us;
    if (const double sigma = model_.jitter_percent / 100; sigma > 0) {
        const auto factor = [&] {
            return std::max(0.05, 1 + sigma * std::clamp(normal_(random_), -6.0, 6.0));
        };
        on_us *= factor();
        dark_us *= factor();
    }
    return {static_cast<TimeUs>(on_us + 0.5), static_cast<TimeUs>(dark_us + 0.5)};
}

void Flashing::light(Request& request, TimeUs on_us, TimeUs off_us) {
    if (request.flashes == 0) request.first_light_us = on_us;
    request.last_light_on_us = on_us;
    request.last_light_off_us = off_us;
    request.flashes += request.show == Indication::hazard ? 2 : 1;
    request.lamp_out = model_.lamp_out_after_flashes > 0 && flashes_ > model_.lamp_out_after_flashes;
    maker_.lights_.push_back({request.show, on_us, off_us});
}

} // namespace winkhold::host
