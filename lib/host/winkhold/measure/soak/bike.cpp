#include "winkhold/measure/soak/bike.hpp"

#include "winkhold/measure/waveform/detail/draw.hpp"
#include "winkhold/measure/waveform/ride.hpp"

#include <algorithm>
#include <iterator>

namespace winkhold::measure {
namespace {

using core::Indication;

class Drawn {
public:
    explicit Drawn(RandomStream& random) : random_(random) {}

    Scenario scenario(bool filtered) {
        Scenario scenario;
        scenario.name = "soak";
        flasher(scenario.flasher);
        ContactModel& contacts = scenario.contacts;
        contacts.bounce_us = ms(0, 20);
        contacts.bounce_pulses = static_cast<int>(random_.whole(1, 4));
        contacts.rise_skew_us = {0, within(0, 40'000)};
        contacts.fall_skew_us = {0, within(0, 80'000)};
        scenario.volts.used = filtered;
        scenario.volts.filter_tau_us = static_cast<TimeUs>(within(100, 12'000));
        scenario.rider.transit_us = within(-50'000, 200'000);
        while (scenario.rider.script.size() < 24)
            deed(scenario.rider.script);
        return scenario;
    }

    core::Settings settings(double dark_us) {
        core::Settings s;
        s.settle_us = us(1, 20);
        s.hold_us = us(100, 900);
        s.guard_us = us(0, 80);
        s.cut_margin_us = us(0, 50);
        s.handover_us = chance(0.2) ? 0 : us(5, 100);
        s.fall_window_us = chance(0.2) ? 0 : us(20, 150);
        s.rule = chance(0.5) ? core::HoldRule::fixed : core::HoldRule::paced;
        s.cut_short = chance(0.5);
        s.spread = chance(0.5);
        if (chance(0.25) && dark_us >= s.settle_us) s.gap_prior_us = static_cast<std::uint32_t>(dark_us);
        return s;
    }

    /// One to three kinds.
    std::vector<SoakAxis> axes() {
        std::vector<SoakAxis> list;
        for (const auto count = static_cast<std::size_t>(random_.whole(1, 3)); list.size() < count;) {
            const auto axis = static_cast<SoakAxis>(random_.whole(0, std::ssize(soak_axes) - 1));
            if (std::find(list.begin(), list.end(), axis) == list.end()) list.push_back(axis);
        }
        return list;
    }

    void impair(Scenario& scenario, SoakAxis axis) {
        TapFaults& taps = scenario.taps;
        switch (axis) {
        case SoakAxis::breaks:
        case SoakAxis::dips:
        case SoakAxis::vibration:
        case SoakAxis::strikes_twice:
        case SoakAxis::strays:
        case SoakAxis::half_hazard:
            taps.disturbances.push_back(disturbance(axis));
            break;
        case SoakAxis::second_rhythm:
            second_rhythm(scenario.flasher);
            break;
        case SoakAxis::groups:
            groups(scenario.flasher.cycle_us);
            break;
        case SoakAxis::drift:
            scenario.flasher.drift_percent_per_min = within(10, 40);
            break;
        case SoakAxis::missing:
            scenario.flasher.missing_flash_percent = within(1, 5);
            break;
        case SoakAxis::fumble:
            scenario.rider.fumble = {
                .percent = within(10, 80), .for_us = {20'000, 200'000}, .before_us = {50'000, 500'000}};
            break;
        case SoakAxis::touch:
            scenario.rider.touch = {.percent = within(10, 80),
                                    .after_us = {60'000, 700'000},
                                    .for_us = {6'000, 60'000},
                                    .other_side = chance(0.5)};
            break;
        case SoakAxis::hum:
            taps.broken.push_back({.tap = chance(0.5) ? core::Side::left : core::Side::right,
                                   .from_us = {0, 40e6},
                                   .for_us = {2e6, 20e6},
                                   .hum_hz = 50,
                                   .hum_percent = {30, 70},
                                   .hum_every_us = {100'000, 4e6},
                                   .hum_for_us = {100'000, within(100'000, 2e6)}});
            break;
        case SoakAxis::half_waves:
            taps.half_wave_hz = within(20, 40);
            break;
        }
    }

    bool chance(double of) { return random_.unit() < of; }

private:
    double within(double least, double most) { return draw({least, most}, random_); }
    TimeUs ms(double least, double most) { return static_cast<TimeUs>(within(least * 1e3, most * 1e3)); }
    std::uint32_t us(double least_ms, double most_ms) {
        return static_cast<std::uint32_t>(ms(least_ms, most_ms));
    }

    Disturbance disturbance(SoakAxis axis) {
        Disturbance one;
        one.percent = within(2, 50);
        if (axis == SoakAxis::breaks) {
            one.taps = chance(0.5) ? Disturbance::Taps::own : Disturbance::Taps::one_bad;
            one.for_us = {6'000, within(10'000, 150'000)};
        } else if (axis == SoakAxis::dips) {
            one.taps = Disturbance::Taps::both;
            one.for_us = {5'000, within(10'000, 100'000)};
        } else if (axis == SoakAxis::vibration) {
            one.for_us = {150'000, 800'000};
            one.hz = within(8, 25);
            one.open_percent = within(10, 60);
        } else if (axis == SoakAxis::strikes_twice) {
            one.taps = Disturbance::Taps::both;
            one.after_us = Range{8'000, 25'000};
            one.for_us = {8'000, 40'000};
        } else if (axis == SoakAxis::strays) {
            one.what = Disturbance::What::stray;
            one.taps = chance(0.5) ? Disturbance::Taps::own : Disturbance::Taps::other;
            one.for_us = {6'000, 40'000};
        } else { // half_hazard
            one.taps = Disturbance::Taps::one_bad;
            one.flashes = Disturbance::Flashes::hazard;
            one.after_us = Range{30'000, 200'000};
            one.for_us = 10e6;
        }
        return one;
    }

    /// Loose bulbs, lamps out and back, quick starts, hazards and turns of another tempo, slowing, steps.
    void second_rhythm(FlasherModel& flasher) {
        SecondRhythm& second = flasher.second_rhythm;
        second.used = true;
        const double period_us = 60e6 / flasher.rate_per_min.least;
        second.rate_factor = std::clamp(within(0.5, 3), period_us / 1.2e6, period_us / 0.2e6);
        if (chance(0.5)) second.duty_percent = within(30, 70);
        switch (random_.whole(0, 5)) {
        case 0:
            second.in = chance(0.5) ? SecondRhythm::In::hazards : SecondRhythm::In::turns;
            break;
        case 1:
            second.requests_percent = within(10, 90);
            break;
        case 2:
            second.flashes_percent = within(5, 60);
            break;
        case 3:
            second.to_flash = static_cast<double>(random_.whole(3, 12));
            break;
        case 4:
            second.from_flash = static_cast<double>(random_.whole(2, 8));
            second.requests_percent = within(10, 90);
            break;
        case 5:
            second.after_flashes = static_cast<double>(random_.whole(3, 60));
            second.in_turns = chance(0.5);
            break;
        }
    }

    void groups(std::vector<TimeUs>& cycle_us) {
        const TimeUs on_us = ms(150, 260);
        const TimeUs dark_us = ms(200, 260);
        for (auto flashes = random_.whole(3, 7); flashes > 0; --flashes)
            cycle_us.insert(cycle_us.end(), {on_us, dark_us});
        cycle_us.back() = ms(500, 800);
    }

    void flasher(FlasherModel& flasher) {
        flasher.rate_per_min = 60e6 / within(230'000, 1'200'000);
        flasher.duty_percent = within(25, 75);
        flasher.jitter_percent = within(0, 15);
        flasher.side_change = static_cast<SideChange>(random_.whole(0, 2));
        flasher.start_delay_us = ms(0, 10);
        if (flasher.side_change == SideChange::restart && chance(0.3)) flasher.tip_flashes = 3;
    }

    void ask(std::vector<RiderStep>& script, Indication show, double flashes) {
        script.push_back({.show = show, .by_flashes = true, .flashes = {1, flashes}, .for_us = 0});
    }
    void ask_for(std::vector<RiderStep>& script, Indication show, double least_ms, double most_ms) {
        script.push_back(
            {.show = show, .by_flashes = false, .flashes = 0, .for_us = {least_ms * 1e3, most_ms * 1e3}});
    }

    /// One thing a rider does, and mostly a pause.
    void deed(std::vector<RiderStep>& script) {
        const bool right = chance(0.5);
        const Indication one = right ? Indication::right : Indication::left;
        const Indication other = right ? Indication::left : Indication::right;
        switch (random_.whole(0, 6)) {
        case 0:
        case 1:
            ask(script, one, 12);
            break;
        case 2:
            ask(script, one, 8);
            ask(script, other, 8);
            break;
        case 3:
            ask(script, Indication::hazard, 8);
            break;
        case 4: // the hazard switch wins, and what it leaves goes on
            ask(script, one, 5);
            ask(script, Indication::hazard, 6);
            if (chance(0.5)) ask(script, chance(0.5) ? one : other, 5);
            break;
        case 5: // there and back
            ask(script, one, 4);
            ask_for(script, other, 80, 400);
            ask(script, one, 6);
            break;
        case 6: // a tap: three flashes where the flasher gives a tip
            ask_for(script, one, 50, 500);
            break;
        }
        if (chance(0.85)) ask_for(script, Indication::off, 100, 4'000);
    }

    RandomStream& random_;
};

} // namespace

SoakRide draw_soak_ride(std::uint64_t seed, std::uint64_t ride, const core::Settings& settings) {
    RandomStream random(seed, 2 * ride);
    Drawn drawn(random);
    const bool filtered = drawn.chance(0.5);
    SoakRide soak{SoakPopulation::as_set, drawn.scenario(filtered), filtered, {}};
    soak.scenario.decoder = settings;
    if (ride % 8 == 6) {
        soak.population = SoakPopulation::disturbed;
        soak.axes = drawn.axes();
        for (const SoakAxis axis : soak.axes)
            drawn.impair(soak.scenario, axis);
    }
    if (ride % 4 != 3) return soak;
    soak.population = SoakPopulation::drawn_settings;
    const FlasherModel& flasher = soak.scenario.flasher;
    soak.scenario.decoder =
        drawn.settings(60e6 / flasher.rate_per_min.least * (1 - flasher.duty_percent.least / 100));
    return soak;
}

Trace undisturbed_trace(const SoakRide& soak, std::uint64_t seed, std::uint64_t ride) {
    Scenario scenario = soak.scenario;
    scenario.taps = {};
    RideMaker maker(scenario);
    return maker.make(seed, soak_trial(ride)).trace;
}

} // namespace winkhold::measure
