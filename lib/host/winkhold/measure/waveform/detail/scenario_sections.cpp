#include "winkhold/measure/waveform/detail/scenario_sections.hpp"

#include "winkhold/measure/front_end/detail/front_end_section.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::measure {
namespace {

using core::Indication;

constexpr TimeUs day_us = 86'400'000'000;

void read_broken(const std::string& file, TomlFields& lines, std::vector<BrokenTap>& broken) {
    const toml::node* node = lines.node("broken");
    if (node == nullptr) return;
    const toml::array* list = node->as_array();
    if (list == nullptr)
        lines.refuse("broken", *node, "write a list, like [{ tap = \"left\", reads = \"low\" }]");
    broken.clear();
    for (const toml::node& one : *list) {
        if (!one.is_table()) lines.refuse("broken", one, "each is { tap = ..., reads = ... }");
        TomlFields fields(file, "lines.broken", *one.as_table());
        BrokenTap& tap = broken.emplace_back();
        const int side = fields.choice("tap", {"left", "right"});
        const int level = fields.choice("reads", {"low", "high"});
        if (side < 0 || level < 0) fields.refuse(side < 0 ? "tap" : "reads", one, "missing");
        tap.tap = side == 0 ? core::Side::left : core::Side::right;
        tap.high = level == 1;
        fields.duration_range("from", day_us, tap.from_us);
        fields.duration_range("for", day_us, tap.for_us);
        fields.range("hum_hz", 0, 10'000, tap.hum_hz);
        fields.range("hum_percent", 1, 99, tap.hum_percent);
        fields.duration_range("hum_every", day_us, tap.hum_every_us);
        fields.duration_range("hum_for", day_us, tap.hum_for_us);
        if (!tap.hum_hz.zero() && (tap.high || tap.hum_for_us.zero()))
            fields.refuse("hum_hz", one, "hum is heard on a tap that reads low, and needs hum_for");
        fields.done();
    }
}

/// Reads a section inside of another: { ... } or [section.name].
template <class Read>
void inner_table(const std::string& file, TomlFields& fields, const std::string& section, const char* name,
                 Read&& read) {
    const toml::node* node = fields.node(name);
    if (node == nullptr) return;
    if (!node->is_table()) fields.refuse(name, *node, "write a table, like { percent = 20, for = \"20ms\" }");
    TomlFields inner(file, section + "." + name, *node->as_table());
    read(inner);
    inner.done();
}

void read_second_rhythm(TomlFields& fields, SecondRhythm& second) {
    second.used = true;
    fields.range("rate_factor", 0.2, 10, second.rate_factor);
    fields.range("duty_percent", 0, 99, second.duty_percent);
    if (const int in = fields.choice("in", {"all", "turns", "hazards"}); in >= 0)
        second.in = static_cast<SecondRhythm::In>(in);
    fields.number("requests_percent", 0, 100, second.requests_percent);
    fields.number("flashes_percent", 0, 100, second.flashes_percent);
    fields.range("from_flash", 1, 1'000'000, second.from_flash);
    fields.range("to_flash", 1, 1'000'000, second.to_flash);
    fields.range("after_flashes", 0, 1'000'000, second.after_flashes);
    fields.flag("in_turns", second.in_turns);
    if (second.in_turns && second.after_flashes.least < 1)
        fields.refuse("in_turns", fields.table(), "say with after_flashes how many flashes a turn has");
}

void read_brake(const std::string& file, TomlFields& rider, std::vector<Press>& presses) {
    const toml::node* node = rider.node("brake");
    if (node == nullptr) return;
    const toml::array* list = node->as_array();
    if (list == nullptr) rider.refuse("brake", *node, "write a list, like [{ from = \"2s\", for = \"1s\" }]");
    presses.clear();
    for (const toml::node& one : *list) {
        if (!one.is_table()) rider.refuse("brake", one, "each is { from = ..., for = ... }");
        TomlFields fields(file, "rider.brake", *one.as_table());
        Press press;
        press.by_pedal = fields.choice("by", {"lever", "pedal"}) == 1;
        fields.duration("from", day_us, press.from_us);
        fields.duration("for", day_us, press.for_us);
        if (press.for_us == 0) fields.refuse("for", one, "missing; say how long it is pressed");
        const auto above = std::find_if(presses.rbegin(), presses.rend(),
                                        [&](const Press& other) { return other.by_pedal == press.by_pedal; });
        if (above != presses.rend() && press.from_us <= above->from_us + above->for_us)
            fields.refuse("from", one, "before the press above has ended");
        presses.push_back(press);
        fields.done();
    }
}

Indication read_indication(TomlFields& fields) {
    const int show = fields.choice("show", {"off", "left", "right", "hazard"});
    if (show < 0)
        fields.refuse("show", fields.table(), "write show = \"off\", \"left\", \"right\" or \"hazard\"");
    return static_cast<Indication>(show);
}

} // namespace

void read_flasher(const std::string& file, TomlFields& fields, FlasherModel& flasher) {
    fields.range("rate_per_min", 10, 600, flasher.rate_per_min);
    fields.range("duty_percent", 1, 99, flasher.duty_percent);
    fields.renamed("pattern", "cycle");
    fields.duration_pairs("cycle", 10'000'000, flasher.cycle_us);
    fields.number("jitter_percent", 0, 30, flasher.jitter_percent);
    fields.duration("start_delay", 10'000'000, flasher.start_delay_us);
    fields.duration_range("first_on_extra", 10'000'000, flasher.first_on_extra_us);
    fields.duration_range("first_dark", 10'000'000, flasher.first_dark_us);
    fields.whole("lamp_out_after_flashes", 0, 1'000'000, flasher.lamp_out_after_flashes);
    fields.whole("lamp_out_for_flashes", 0, 1'000'000, flasher.lamp_out_for_flashes);
    fields.range("lamp_out_rate_factor", 0.2, 5, flasher.lamp_out_rate_factor);
    fields.range("lamp_out_duty_percent", 1, 99, flasher.lamp_out_duty_percent);
    fields.number("missing_flash_percent", 0, 50, flasher.missing_flash_percent);
    fields.whole("stays_on_from_flash", 0, 1'000'000, flasher.stays_on_from_flash);
    fields.whole("tip_flashes", 0, 100, flasher.tip_flashes);
    fields.number("drift_percent_per_min", -50, 50, flasher.drift_percent_per_min);
    inner_table(file, fields, "flasher", "second_rhythm",
                [&](TomlFields& inner) { read_second_rhythm(inner, flasher.second_rhythm); });
    const int model = fields.choice("side_change", {"restart", "free-running", "whole-cycle"});
    if (model >= 0) flasher.side_change = static_cast<SideChange>(model);
}

void read_lines(const std::string& file, TomlFields& fields, ContactModel& contacts, TapFaults& taps) {
    fields.duration("bounce", 100'000, contacts.bounce_us);
    fields.whole("bounce_pulses", 0, 20, contacts.bounce_pulses);
    fields.duration_range("rise_skew", 500'000, contacts.rise_skew_us);
    fields.duration_range("fall_skew", 500'000, contacts.fall_skew_us);
    read_broken(file, fields, taps.broken);
    read_disturbances(file, fields, taps.disturbances);
    fields.duration_range("chatter_every", day_us, taps.chatter_every_us);
    fields.duration_range("chatter_for", 10'000'000, taps.chatter_for_us);
    fields.range("chatter_hz", 1, 10'000, taps.chatter_hz);
    fields.range("pwm_hz", 0, 25'000, taps.pwm_hz);
    fields.range("pwm_percent", 1, 100, taps.pwm_percent);
    fields.range("half_wave_hz", 0, 10'000, taps.half_wave_hz);
    fields.range("running_hz", 0, 10'000, taps.running_hz);
    fields.range("running_percent", 1, 99, taps.running_percent);
    fields.duration_range("test_pulse_every", day_us, taps.test_pulse_every_us);
    fields.duration_range("test_pulse", 1'000'000, taps.test_pulse_us);
    fields.flag("alternate", taps.alternate);
}

void read_volts(TomlFields& fields, LineVolts& volts) {
    volts.used = true;
    fields.range("supply", 0, 60, volts.supply_v);
    fields.range("dark", 0, 60, volts.dark_v);
    fields.range("cross_feed", 0, 1, volts.cross_feed);
    fields.duration_range("fall_tau", 1'000'000, volts.fall_tau_us);
    fields.duration_range("dip_every", day_us, volts.dip_every_us);
    fields.duration_range("dip", 10'000'000, volts.dip_us);
    fields.range("dip_to", 0, 60, volts.dip_v);
    fields.duration_range("crank_at", day_us, volts.crank_at_us);
    fields.duration_range("key_off_at", day_us, volts.key_off_at_us);
    fields.duration("key_off_spread", 1'000'000, volts.key_off_spread_us);
    fields.range("spikes_per_s", 0, 10'000, volts.spikes_per_s);
    fields.duration_range("spike", 1'000'000, volts.spike_us);
    fields.range("spike_volts", 0, 1'000, volts.spike_v);
    fields.range("clamp", 0.1, 1'000, volts.clamp_v);
    fields.duration("filter_tau", 1'000'000, volts.filter_tau_us);
    fields.number("on_above", 0, 60, volts.on_above_v);
    fields.number("off_below", 0, 60, volts.off_below_v);
    if (volts.off_below_v > volts.on_above_v)
        fields.refuse("off_below", fields.table(), "must not be above on_above");
}

void read_volts_front_end(TomlFields& fields, const toml::node* volts, LineVolts& line) {
    if (!says_anything(fields.table())) return;
    line.used = true;
    read_front_end(fields, line.front_end ? *line.front_end : line.front_end.emplace());
    if (volts == nullptr || !volts->is_table()) return;
    for (const char* plain : {"clamp", "filter_tau", "on_above", "off_below"})
        if (const toml::node* said = volts->as_table()->get(plain))
            throw InputError(
                fmt::format("{}: the input stage stands in [front_end] already; delete one of them",
                            fields.where(plain, *said)));
}

void check_front_end(const LineVolts& volts) {
    if (!volts.front_end || volts.front_end->nominal()) return;
    throw InputError(
        fmt::format("{}can't be simulated: give top_kohm, bottom_kohm, capacitor_nf, clamp, pin_v "
                    "and input with a part or rise_v and fall_v; or delete the section",
                    volts.front_end->where));
}

void read_clock(TomlFields& fields, ClockModel& clock) {
    fields.duration_range("before_wrap", day_us, clock.before_wrap_us);
    clock.wraps = clock.wraps || fields.has("before_wrap");
    fields.range("fast_percent", -50, 100, clock.fast_percent);
    fields.duration_range("reset_at", day_us, clock.reset_at_us);
    fields.duration("tick", 1'000'000, clock.tick_us);
    if (clock.tick_us < 1) fields.refuse("tick", fields.table(), "a clock counts in steps of 1us or more");
    fields.duration_range("error", 1'000'000, clock.error_us, -1'000'000);
    fields.duration("wakes_early", 1'000'000, clock.wakes_early_us);
}

void read_rider(const std::string& file, TomlFields& fields, RiderModel& rider) {
    fields.duration_range("transit", 10'000'000, rider.transit_us, -1'000'000);
    fields.whole("repeat", 1, 1'000'000, rider.repeat);
    read_brake(file, fields, rider.brake);
    inner_table(file, fields, "rider", "fumble", [&](TomlFields& inner) {
        inner.number("percent", 0, 100, rider.fumble.percent);
        inner.duration_range("for", 10'000'000, rider.fumble.for_us);
        inner.duration_range("before", 10'000'000, rider.fumble.before_us);
    });
    inner_table(file, fields, "rider", "touch", [&](TomlFields& inner) {
        inner.number("percent", 0, 100, rider.touch.percent);
        inner.duration_range("for", 10'000'000, rider.touch.for_us);
        inner.duration_range("after", 10'000'000, rider.touch.after_us);
        if (const int side = inner.choice("side", {"same", "other"}); side >= 0)
            rider.touch.other_side = side == 1;
    });
    fields.flag("tail", rider.tail);
    const toml::node* script = fields.node("script");
    if (script == nullptr) return;
    const toml::array* steps = script->as_array();
    if (steps == nullptr || steps->empty())
        fields.refuse("script", *script, "write a list of steps, like [{ show = \"left\", flashes = 5 }]");
    rider.script.clear();
    for (const toml::node& node : *steps) {
        if (!node.is_table()) fields.refuse("script", node, "each step is { show = ..., flashes = ... }");
        TomlFields step(file, "rider.script", *node.as_table());
        RiderStep& read = rider.script.emplace_back();
        read.show = read_indication(step);
        step.range("flashes", 0, 1'000'000, read.flashes);
        step.duration_range("for", day_us, read.for_us);
        read.by_flashes = step.has("flashes");
        if (read.by_flashes == step.has("for"))
            step.refuse(read.by_flashes ? "for" : "flashes", node, "give either flashes or for");
        step.done();
    }
}

} // namespace winkhold::measure
