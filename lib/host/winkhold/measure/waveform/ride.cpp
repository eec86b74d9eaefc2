#include "winkhold/measure/waveform/ride.hpp"

#include "winkhold/measure/waveform/detail/disturb.hpp"
#include "winkhold/measure/waveform/detail/draw.hpp"
#include "winkhold/measure/waveform/detail/flashing.hpp"
#include "winkhold/measure/waveform/detail/line_volts_draw.hpp"
#include "winkhold/measure/waveform/detail/tap_faults_draw.hpp"
#include "winkhold/measure/waveform/detail/thumb.hpp"

#include <algorithm>

namespace winkhold::measure {
namespace {

using core::Indication;

int draw_whole(const Range& range, RandomStream& random) {
    if (range.fixed()) return static_cast<int>(range.least);
    return static_cast<int>(
        random.whole(static_cast<std::int64_t>(range.least), static_cast<std::int64_t>(range.most)));
}

void draw_second_rhythm(const SecondRhythm& second, RandomStream& random, Bike& bike) {
    const double period_us = bike.period_us() / draw(second.rate_factor, random);
    const double percent = draw(second.duty_percent, random);
    bike.second_on_us = period_us * (percent > 0 ? percent / 100 : bike.on_us / bike.period_us());
    bike.second_dark_us = period_us - bike.second_on_us;
    bike.second_from_flash = draw_whole(second.from_flash, random);
    bike.second_to_flash = draw_whole(second.to_flash, random);
    bike.second_after_flashes = draw_whole(second.after_flashes, random);
}

Bike draw_bike(const FlasherModel& model, RandomStream& random) {
    Bike bike;
    const double period_us = 60e6 / draw(model.rate_per_min, random);
    bike.on_us = period_us * draw(model.duty_percent, random) / 100;
    bike.dark_us = period_us - bike.on_us;
    if (!model.cycle_us.empty()) { // on average
        bike.on_us = bike.dark_us = 0;
        const double pairs = static_cast<double>(model.cycle_us.size()) / 2;
        for (std::size_t i = 0; i < model.cycle_us.size(); ++i)
            (i % 2 == 0 ? bike.on_us : bike.dark_us) += static_cast<double>(model.cycle_us[i]) / pairs;
    }
    const double lamp_out_period_us = period_us / draw(model.lamp_out_rate_factor, random);
    bike.lamp_out_on_us = lamp_out_period_us * draw(model.lamp_out_duty_percent, random) / 100;
    bike.lamp_out_dark_us = lamp_out_period_us - bike.lamp_out_on_us;
    if (model.second_rhythm.used) draw_second_rhythm(model.second_rhythm, random, bike);
    return bike;
}

TimeUs draw_length(const RiderStep& step, const Bike& bike, RandomStream& random) {
    if (!step.by_flashes) return draw_us(step.for_us, random);
    const auto flashes = random.whole(static_cast<std::int64_t>(step.flashes.least),
                                      static_cast<std::int64_t>(step.flashes.most));
    return static_cast<TimeUs>((static_cast<double>(flashes) + random.unit()) * bike.period_us() + 0.5);
}

void write_script(const RiderModel& rider, const Bike& bike, RandomStream& random, Truth& truth) {
    truth.requests.clear();
    TimeUs now_us = 0;
    for (int round = 0; round < rider.repeat; ++round)
        for (const RiderStep& step : rider.script) {
            const TimeUs start_us = now_us;
            now_us += draw_length(step, bike, random);
            if (step.show != Indication::off)
                truth.requests.push_back(
                    {.show = step.show, .start_us = start_us, .end_us = now_us, .first_light_us = now_us});
        }
    truth.end_us = now_us;
}

/// Nothing is asked for once the key is off.
void turn_key_off(TimeUs key_off_us, Truth& truth) {
    std::erase_if(truth.requests, [&](const Request& request) { return request.start_us >= key_off_us; });
    if (truth.requests.empty()) return;
    Request& last = truth.requests.back();
    last.end_us = std::min(last.end_us, key_off_us);
    last.first_light_us = last.end_us;
}

/// Puts the changes of another tap in between.
void merge_tap(const std::vector<LevelChange>& changes, core::Lines::Tap tap, std::vector<Edge>& edges) {
    std::vector<Edge> merged;
    bool up = false;
    std::size_t next = 0;
    core::Lines lines;
    const auto changes_before = [&](TimeUs t_us) {
        for (; next < changes.size() && changes[next].t_us < t_us; ++next) {
            up = changes[next].high;
            merged.push_back({changes[next].t_us, lines.with(tap, up)});
        }
    };
    for (const Edge& edge : edges) {
        changes_before(edge.t_us);
        if (next < changes.size() && changes[next].t_us == edge.t_us) up = changes[next++].high;
        lines = edge.lines;
        merged.push_back({edge.t_us, lines.with(tap, up)});
    }
    changes_before(never_us);
    edges = std::move(merged);
}

std::vector<LevelChange> brake_changes(const std::vector<Press>& presses, bool by_pedal, TimeUs end_us) {
    std::vector<LevelChange> changes;
    for (const Press& press : presses) {
        if (press.by_pedal != by_pedal) continue;
        if (press.from_us < end_us) changes.push_back({press.from_us, true});
        if (press.from_us + press.for_us < end_us) changes.push_back({press.from_us + press.for_us, false});
    }
    return changes;
}

} // namespace

/// Turns bright phases into what the taps read: skew, contact bounce, both sides merged.
class Contacts {
public:
    Contacts(RideMaker& maker, RandomStream& random)
        : maker_(maker), model_(maker.scenario_.contacts), random_(random) {}

    void close_and_open() {
        for (auto& side : maker_.contacts_)
            side.clear();
        for (std::size_t i = 0; i < maker_.lights_.size(); ++i) {
            const Light& light = maker_.lights_[i];
            const bool both = light.show == Indication::hazard;
            if (core::shows(light.show, core::Side::left)) one(0, light.on_us, light.off_us);
            if (core::shows(light.show, core::Side::right)) {
                if (both && maker_.scenario_.taps.alternate) {
                    in_turn(i);
                    continue;
                }
                const TimeUs rise_us = both ? skew(model_.rise_skew_us) : 0;
                const TimeUs fall_us = both ? skew(model_.fall_skew_us) : 0;
                const TimeUs on_us = light.on_us + rise_us;
                one(1, on_us, std::max(on_us, light.off_us + fall_us));
            }
        }
    }

    void merge() {
        auto& edges = maker_.ride_.trace.edges;
        edges.clear();
        const auto& left = maker_.contacts_[0];
        const auto& right = maker_.contacts_[1];
        std::uint8_t levels = core::Lines::supply;
        edges.push_back({0, core::Lines(levels)});
        std::size_t l = 0;
        std::size_t r = 0;
        while (l < left.size() || r < right.size()) {
            const bool from_left = r == right.size() || (l < left.size() && left[l].t_us <= right[r].t_us);
            const LevelChange& next = from_left ? left[l++] : right[r++];
            const std::uint8_t tap = from_left ? core::Lines::left : core::Lines::right;
            levels = static_cast<std::uint8_t>(next.high ? levels | tap : levels & ~tap);
            if (edges.back().t_us == next.t_us)
                edges.back().lines = core::Lines(levels);
            else
                edges.push_back({next.t_us, core::Lines(levels)});
        }
        if (!maker_.supply_.empty()) merge_tap(maker_.supply_, core::Lines::supply, edges);
        maker_.ride_.trace.end_us = std::max(maker_.ride_.truth.end_us, edges.back().t_us);
        maker_.ride_.truth.end_us = maker_.ride_.trace.end_us;
    }

private:
    TimeUs skew(const Range& range) { return static_cast<TimeUs>(draw(range, random_)); }

    /// The right side lights while the left one is dark.
    void in_turn(std::size_t i) {
        const Light& light = maker_.lights_[i];
        const bool goes_on = i + 1 < maker_.lights_.size() &&
                             maker_.lights_[i + 1].show == Indication::hazard &&
                             maker_.lights_[i + 1].on_us - light.off_us < core::built_in::longest_gap_us;
        one(1, light.off_us,
            goes_on ? maker_.lights_[i + 1].on_us : light.off_us + (light.off_us - light.on_us));
    }

    void one(int side, TimeUs on_us, TimeUs off_us) {
        auto& out = maker_.contacts_[side];
        if (!out.empty()) on_us = std::max(on_us, out.back().t_us + 1); // never before the last bounce
        if (on_us >= off_us) return;
        out.push_back({on_us, true});
        bounce(out, on_us, true, std::min(model_.bounce_us, off_us - on_us), 1, model_.bounce_pulses);
        off_us = std::max(off_us, out.back().t_us + 1); // a light of a few us may still bounce
        out.push_back({off_us, false});
        bounce(out, off_us, false, model_.bounce_us, 0, model_.bounce_pulses / 2);
    }

    /// After a move to `high` at `t_us` the contact comes to rest before `t_us + bounce_us`: false pulses,
    /// `least` to `most` of them, cut the time into equal slots, and each change falls somewhere in its slot.
    void bounce(std::vector<LevelChange>& out, TimeUs t_us, bool high, TimeUs bounce_us, int least,
                int most) {
        if (bounce_us <= 0 || most == 0) return;
        std::uint64_t bits = random_();
        const auto choices = static_cast<std::uint64_t>(most - least + 1);
        const std::uint64_t changes =
            2 * (static_cast<std::uint64_t>(least) + ((bits & 0xffff) * choices >> 16));
        const double slot_us = static_cast<double>(bounce_us) / static_cast<double>(changes);
        TimeUs last_us = t_us;
        for (std::uint64_t i = 0; i < changes; ++i) {
            bits = i % 4 == 3 ? random_() : bits >> 16;
            const double within = static_cast<double>(bits & 0xffff) * 0x1p-16;
            const TimeUs at_us = t_us + static_cast<TimeUs>((static_cast<double>(i) + within) * slot_us);
            last_us = std::max(last_us + 1, at_us);
            out.push_back({last_us, high == ((i & 1) != 0)});
        }
    }

    RideMaker& maker_;
    const ContactModel& model_;
    RandomStream& random_;
};

const Ride& RideMaker::make(std::uint64_t seed, std::uint64_t trial) {
    RandomStream random(seed, trial);
    ride_.bike = draw_bike(scenario_.flasher, random);
    write_script(scenario_.rider, ride_.bike, random, ride_.truth);
    const TimeUs key_off_us = draw_key_off_us(scenario_.volts, random);
    if (key_off_us > 0) turn_key_off(key_off_us, ride_.truth);
    ride_.planted.clear();
    Flashing(*this, random).light_up();
    const auto plant = [this](Planted::What what, const std::vector<Light>& lights) {
        for (const Light& light : lights)
            ride_.planted.push_back({what, light.on_us, light.off_us});
    };
    const RiderModel& rider = scenario_.rider;
    if (rider.fumble.percent > 0)
        plant(Planted::What::fumble, fumble(rider.fumble, random, ride_.truth, lights_));
    if (rider.touch.percent > 0)
        plant(Planted::What::touch, touch(rider.touch, random, ride_.truth, lights_));
    Contacts contacts(*this, random);
    contacts.close_and_open();
    const TimeUs end_us = ride_.truth.end_us;
    if (!scenario_.taps.disturbances.empty())
        disturb(scenario_.taps.disturbances, ride_.truth, lights_, random, contacts_);
    if (scenario_.taps.any()) spoil_taps(scenario_.taps, end_us, random, contacts_);
    std::vector<LevelChange> brakes[] = {brake_changes(rider.brake, false, end_us),
                                         brake_changes(rider.brake, true, end_us)};
    std::vector<LevelChange> tail;
    if (rider.tail) tail.push_back({0, true});
    if (scenario_.volts.used)
        read_volts(scenario_.volts, key_off_us, end_us, random,
                   {contacts_[0], contacts_[1], supply_, brakes, tail});
    contacts.merge();
    const std::vector<LevelChange> brake = either(brakes[0], brakes[1]);
    if (!brake.empty()) merge_tap(brake, core::Lines::brake, ride_.trace.edges);
    if (!tail.empty()) merge_tap(tail, core::Lines::tail, ride_.trace.edges);
    return ride_;
}

} // namespace winkhold::measure
