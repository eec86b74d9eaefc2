#include "winkhold/measure/soak/bike.hpp"

#include "winkhold/measure/waveform/detail/draw.hpp"
#include "winkhold/measure/waveform/ride.hpp"

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

    std::vector<Disturbance> disturbances() {
        std::vector<Disturbance> list(static_cast<std::size_t>(random_.whole(1, 3)));
        for (Disturbance& one : list) {
            one.percent = within(2, 50);
            switch (random_.whole(0, 4)) {
            case 0: // a worn contact
                one.taps = chance(0.5) ? Disturbance::Taps::own : Disturbance::Taps::one_bad;
                one.for_us = {6'000, within(10'000, 150'000)};
                break;
            case 1: // a supply that dips
                one.taps = Disturbance::Taps::both;
                one.for_us = {5'000, within(10'000, 100'000)};
                break;
            case 2: // a bike that shakes
                one.for_us = {150'000, 800'000};
                one.hz = within(8, 25);
                one.open_percent = within(10, 60);
                break;
            case 3: // a relay that strikes twice
                one.taps = Disturbance::Taps::both;
                one.after_us = Range{8'000, 25'000};
                one.for_us = {8'000, 40'000};
                break;
            case 4:
                one.what = Disturbance::What::stray;
                one.taps = chance(0.5) ? Disturbance::Taps::own : Disturbance::Taps::other;
                one.for_us = {6'000, 40'000};
                break;
            }
        }
        return list;
    }

    bool chance(double of) { return random_.unit() < of; }

private:
    double within(double least, double most) { return draw({least, most}, random_); }
    TimeUs ms(double least, double most) { return static_cast<TimeUs>(within(least * 1e3, most * 1e3)); }
    std::uint32_t us(double least_ms, double most_ms) {
        return static_cast<std::uint32_t>(ms(least_ms, most_ms));
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
    SoakRide soak{SoakPopulation::as_set, drawn.scenario(filtered), filtered};
    soak.scenario.decoder = settings;
    if (ride % 8 == 6) {
        soak.population = SoakPopulation::disturbed;
        soak.scenario.taps.disturbances = drawn.disturbances();
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
    scenario.taps.disturbances.clear();
    RideMaker maker(scenario);
    return maker.make(seed, soak_trial(ride)).trace;
}

} // namespace winkhold::measure
