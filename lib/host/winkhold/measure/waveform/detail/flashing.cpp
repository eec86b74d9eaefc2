#include "winkhold/measure/waveform/detail/flashing.hpp"

#include "winkhold/measure/waveform/detail/draw.hpp"

#include <algorithm>
#include <optional>

namespace winkhold::measure {

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
        begin(request);
        TimeUs t_us = closes_us(i) + draw_us(model_.first_dark_us, random_);
        if (t_us >= still_closed_until_us_) t_us += model_.start_delay_us; // else it is running already
        TimeUs extra_us = draw_us(model_.first_on_extra_us, random_);
        const TimeUs tip_ends_by_us =
            i + 1 < requests.size() ? requests[i + 1].start_us : maker_.ride_.truth.end_us;
        cycle_at_ = 0;
        for (int flash = 1; t_us < request.end_us; ++flash) {
            const Phase phase = next_phase(t_us, request.end_us);
            const TimeUs off_us = t_us + phase.on_us + extra_us;
            const TimeUs next_us = off_us + phase.dark_us;
            if (flash <= model_.tip_flashes) // the last one ends with its light
                request.end_us =
                    std::max(request.end_us,
                             std::min(tip_ends_by_us, flash < model_.tip_flashes ? next_us + 1 : off_us));
            light(request, t_us, std::min(off_us, request.end_us));
            t_us = next_us;
            extra_us = 0;
        }
    }
}

void Flashing::free_running() {
    auto& requests = maker_.ride_.truth.requests;
    // the oscillator has run since long before the ride: start it at a random point of its period
    TimeUs t_us = -static_cast<TimeUs>(random_.unit() * maker_.ride_.bike.period_us());
    Phase phase = next_phase(t_us, requests.empty() ? 0 : requests.front().end_us);
    for (std::size_t i = 0; i < requests.size(); ++i) {
        Request& request = requests[i];
        begin(request);
        const TimeUs opens_us = closes_us(i);
        while (true) {
            const TimeUs on_us = std::max(t_us, opens_us);
            const TimeUs off_us = std::min(t_us + phase.on_us, request.end_us);
            if (on_us < off_us) light(request, on_us, off_us);
            if (t_us + phase.on_us + phase.dark_us >= request.end_us) break; // the next request may share it
            t_us += phase.on_us + phase.dark_us;
            phase = next_phase(t_us, request.end_us);
        }
    }
}

void Flashing::whole_cycle() {
    auto& requests = maker_.ride_.truth.requests;
    TimeUs idle_from_us = 0;
    for (std::size_t i = 0; i < requests.size(); ++i) {
        Request& request = requests[i];
        begin(request);
        TimeUs t_us = std::max(idle_from_us,
                               closes_us(i) + model_.start_delay_us + draw_us(model_.first_dark_us, random_));
        cycle_at_ = 0;
        while (t_us < request.end_us) {
            const Phase phase = next_phase(t_us, request.end_us);
            light(request, t_us, t_us + phase.on_us);
            t_us += phase.on_us + phase.dark_us;
            idle_from_us = t_us;
        }
    }
}

TimeUs Flashing::closes_us(std::size_t request) {
    const auto& requests = maker_.ride_.truth.requests;
    const Request& now = requests[request];
    if (request == 0) return now.start_us;
    const Request& before = requests[request - 1];
    // the hazard switch is a button of its own; only from side to side does the lever travel
    const bool travels = before.end_us == now.start_us && before.show != now.show &&
                         before.show != Indication::hazard && now.show != Indication::hazard;
    if (!travels) return now.start_us;
    const TimeUs travel_us = draw_us(maker_.scenario_.rider.transit_us, random_);
    if (travel_us < 0) {
        still_closed_ = before.show;
        still_closed_until_us_ = now.start_us - travel_us;
    }
    return now.start_us + std::max<TimeUs>(0, travel_us);
}

bool Flashing::lamp_is_out(int flash) const {
    const int from = model_.lamp_out_after_flashes;
    return from > 0 && flash >= from &&
           (model_.lamp_out_for_flashes == 0 || flash < from + model_.lamp_out_for_flashes);
}

void Flashing::begin(const Request& request) {
    asked_ = &request;
    flashes_asked_ = 0;
    const SecondRhythm& second = model_.second_rhythm;
    second_asked_ =
        second.used && (second.requests_percent >= 100 || random_.unit() * 100 < second.requests_percent);
}

bool Flashing::takes_second_rhythm() {
    ++flashes_asked_;
    if (!second_asked_) return false;
    const SecondRhythm& second = model_.second_rhythm;
    const Bike& bike = maker_.ride_.bike;
    const bool hazard = asked_->show == Indication::hazard;
    if (second.in != SecondRhythm::In::all && hazard != (second.in == SecondRhythm::In::hazards))
        return false;
    if (flashes_asked_ < bike.second_from_flash || flashes_asked_ > bike.second_to_flash) return false;
    if (const int run = bike.second_after_flashes; run > 0) {
        const int runs = (flashes_ - 1) / run; // this flash is counted already
        if (runs == 0 || (second.in_turns && runs % 2 == 0)) return false;
    }
    return second.flashes_percent >= 100 || random_.unit() * 100 < second.flashes_percent;
}

Flashing::Phase Flashing::next_phase(TimeUs t_us, TimeUs end_us) {
    const bool lamp_out = lamp_is_out(flashes_);
    const Bike& bike = maker_.ride_.bike;
    ++flashes_;
    if (model_.stays_on_from_flash > 0 && flashes_ >= model_.stays_on_from_flash)
        return {std::max<TimeUs>(0, end_us - t_us), 0};
    double on_us = lamp_out ? bike.lamp_out_on_us : bike.on_us;
    double dark_us = lamp_out ? bike.lamp_out_dark_us : bike.dark_us;
    std::optional<Planted::What> planted;
    if (takes_second_rhythm()) {
        on_us = bike.second_on_us;
        dark_us = bike.second_dark_us;
        planted = Planted::What::second_rhythm;
    } else if (const auto& cycle = model_.cycle_us; !cycle.empty()) {
        on_us = static_cast<double>(cycle[cycle_at_]);
        dark_us = static_cast<double>(cycle[cycle_at_ + 1]);
        const std::size_t before = (cycle_at_ + cycle.size() - 2) % cycle.size();
        if (cycle[before] != cycle[cycle_at_] || cycle[before + 1] != cycle[cycle_at_ + 1])
            planted = Planted::What::group;
        cycle_at_ = (cycle_at_ + 2) % cycle.size();
    }
    if (const double drift = model_.drift_percent_per_min / 100; drift != 0) {
        const double grown = std::max(0.2, 1 + drift * static_cast<double>(t_us) / 60e6);
        on_us *= grown;
        dark_us *= grown;
    }
    if (const double sigma = model_.jitter_percent / 100; sigma > 0) {
        const auto factor = [&] {
            return std::max(0.05, 1 + sigma * std::clamp(normal_(random_), -6.0, 6.0));
        };
        on_us *= factor();
        dark_us *= factor();
    }
    const Phase phase{static_cast<TimeUs>(on_us + 0.5), static_cast<TimeUs>(dark_us + 0.5)};
    if (planted) plant(*planted, t_us, t_us + phase.on_us + phase.dark_us);
    return phase;
}

void Flashing::plant(Planted::What what, TimeUs from_us, TimeUs to_us) {
    maker_.ride_.planted.push_back({what, from_us, to_us});
}

void Flashing::light(Request& request, TimeUs on_us, TimeUs off_us) {
    if (request.flashes > 0 && model_.missing_flash_percent > 0 &&
        random_.unit() * 100 < model_.missing_flash_percent) {
        plant(Planted::What::missing_flash, on_us, off_us);
        return;
    }
    if (request.flashes == 0) request.first_light_us = on_us;
    request.last_light_on_us = on_us;
    request.last_light_off_us = off_us;
    const int sides = request.show == Indication::hazard ? 2 : 1;
    request.flashes += sides;
    if (request.flashes == 3 * sides) request.third_light_off_us = off_us;
    request.lamp_out = lamp_is_out(flashes_ - 1);
    if (on_us < still_closed_until_us_) close(still_closed_, on_us, std::min(off_us, still_closed_until_us_));
    close(request.show, on_us, off_us);
}

void Flashing::close(Indication show, TimeUs on_us, TimeUs off_us) {
    auto& lights = maker_.lights_;
    const auto mask = [](Indication which) { return static_cast<unsigned>(which); };
    const unsigned carried_on =
        !lights.empty() && lights.back().off_us == on_us ? mask(lights.back().show) & mask(show) : 0;
    if (carried_on == 0) {
        lights.push_back({show, on_us, off_us});
    } else if (Light& last = lights.back(); carried_on == mask(last.show)) {
        last.off_us = off_us; // its contact does not move; the other side's may close
        if (carried_on != mask(show))
            lights.push_back({static_cast<Indication>(mask(show) & ~carried_on), on_us, off_us});
    } else { // the other side of a hazard opens
        last.show = static_cast<Indication>(mask(last.show) & ~carried_on);
        lights.push_back({show, last.on_us, off_us});
    }
}

} // namespace winkhold::measure
