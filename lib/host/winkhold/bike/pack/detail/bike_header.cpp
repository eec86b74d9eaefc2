// bike.hpp: all that the firmware knows of the bike, each value with its reason.
#include "winkhold/bike/pack/detail/texts.hpp"

#include "winkhold/base/settings_text.hpp"
#include "winkhold/measure/front_end/front_end.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using core::Job;

std::string span(core::Span us) {
    return us % 1'000 == 0 ? fmt::format("{}_ms", us / 1'000) : fmt::format("{}_us", us);
}

/// parts.hpp names pins like the chip, in small letters and without the P: b1, adc6.
std::string pin(const ChipPin* pin) {
    if (pin == nullptr) return "Pin::none";
    std::string name(pin->is_digital() ? pin->port.substr(1) : pin->port);
    std::transform(name.begin(), name.end(), name.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return "Pin::" + name;
}

class BikeHeader {
public:
    explicit BikeHeader(const PackCase& pack) : pack_(pack), vehicle_(pack.vehicle), plan_(pack.plan) {}

    std::string text() {
        add_head();
        add_settings();
        add_timing();
        add_groups();
        add_taps();
        add_outputs();
        add("\n/// All taps dark for this long: the board is parked, all its lamps dark, and it sleeps. 0: "
            "never, as a "
            "marker\n/// burns on and no tap tells that the key is off.\n");
        add("constexpr uint16_t park_after_s = {};\n\n}} // namespace bike\n}} // namespace winkhold\n",
            plan_.park_after_s);
        return std::move(text_);
    }

private:
    template <class... Values>
    void add(fmt::format_string<Values...> format, Values&&... values) {
        fmt::format_to(std::back_inserter(text_), format, std::forward<Values>(values)...);
    }

    void add_head() {
        add("/// One bike, as data: {}. Written by {} from\n", plain_remark(vehicle_.name()), pack_.version);
        for (const Vehicle::File& file : vehicle_.files())
            add("///     {}, CRC-32 {:08x}\n", file_name(file.path), file.crc32);
        add("/// Change the vehicle file and pack again; what is changed here, no bench has seen.\n"
            "#pragma once\n\n#include \"parts.hpp\"\n\nnamespace winkhold {{\nnamespace bike {{\n\n"
            "using namespace core;\nusing namespace firmware;\n\n"
            "/// Of the vehicle file. Settings kept in the EEPROM for another file's bike are not used.\n"
            "constexpr uint32_t vehicle_hash = 0x{:08x};\n\n",
            pack_.hash);
    }

    void add_settings() {
        const core::Settings& s = plan_.settings;
        const auto flag = [](bool on) { return std::string(on ? "true" : "false"); };
        // in the order of named_settings
        const std::string values[named_settings.size()][2] = {
            {"settle_us", span(s.settle_us)},
            {"pwm_gap_us", span(s.pwm_gap_us)},
            {"hold_us", span(s.hold_us)},
            {"rule", s.rule == core::HoldRule::fixed ? "HoldRule::fixed" : "HoldRule::paced"},
            {"guard_us", span(s.guard_us)},
            {"gap_prior_us", span(s.gap_prior_us)},
            {"spread", flag(s.spread)},
            {"handover_us", span(s.handover_us)},
            {"fall_window_us", span(s.fall_window_us)},
            {"cut_short", flag(s.cut_short)},
            {"cut_margin_us", span(s.cut_margin_us)},
            {"supply_gone_us", span(s.supply_gone_us)}};
        add("constexpr Settings make_settings() {{\n    Settings s;\n");
        for (std::size_t i = 0; i < named_settings.size(); ++i)
            add_value(values[i][0], values[i][1], named_settings[i]);
        add("    return s;\n}}\nconstexpr Settings settings = make_settings();\n\n");
    }

    void add_value(std::string_view field, const std::string& value, const NamedSetting& named) {
        add("    // {}: {}\n    //     {}\n    s.{} = {};\n", named.name, named.help,
            reason(vehicle_, fmt::format("decoder.{}", named.name)), field, value);
    }

    void add_timing() {
        const core::SequenceSettings& timing = plan_.lamps.timing;
        const bool own = timing.source == core::FlashSource::own_rate;
        add("constexpr SequenceSettings make_timing() {{\n    SequenceSettings s;\n");
        add("    // clock: {}\n    s.source = FlashSource::{};\n", reason(vehicle_, "sequence.clock"),
            own ? "own_rate" : "following");
        add("    // rate_per_min: {}\n    s.on_us = {};\n    // duty_percent: {}\n    s.dark_us = {};\n",
            reason(vehicle_, "sequence.rate_per_min"), span(timing.on_us),
            reason(vehicle_, "sequence.duty_percent"), span(timing.dark_us));
        add("    // on_prior: {}\n    s.on_prior_us = {};\n", reason(vehicle_, "sequence.on_prior"),
            span(timing.on_prior_us));
        add("    return s;\n}}\nconstexpr SequenceSettings timing = make_timing();\n\n");
    }

    static std::string pattern(const core::Pattern& p) {
        const bool by_lamps = p.fills == core::Pattern::Fills::lamps;
        std::string made = by_lamps && p.step_us == 0 ? std::string("together()")
                           : !by_lamps    ? fmt::format("fading_in({}, {})", p.block, span(p.step_us))
                           : p.block == 1 ? fmt::format("outward({})", span(p.step_us))
                                          : fmt::format("in_blocks({}, {})", p.block, span(p.step_us));
        if (p.stay_us == 0 && p.blank_us == 0) return made;
        return fmt::format("ending({}, {}, {})", made, span(p.stay_us), span(p.blank_us));
    }

    const LampGroup& group(int place) const { return plan_.lamps.lamps[static_cast<std::size_t>(place)]; }

    void add_groups() {
        constexpr std::string_view jobs[] = {"turn", "stop", "tail", "marker"};
        constexpr std::string_view sides[] = {"off", "left", "right", "hazard"};
        add("/// Job, side, lamps, pattern, full, dimmed.\nconstexpr LampGroup groups[] = {{\n");
        for (std::size_t i = 0; i < plan_.lamps.lamps.size(); ++i) {
            const core::LampGroup& plays = plan_.lamps.lamps[i].plays;
            add("    // {} {}: {}\n    {{Job::{}, Indication::{}, {}, {}, {}, {}}},\n", i,
                plain_remark(plan_.lamps.lamps[i].name), reason(vehicle_, fmt::format("lamps.{}", i)),
                jobs[static_cast<std::size_t>(plays.job)], sides[static_cast<std::size_t>(plays.side)],
                plays.count, pattern(plays.pattern), plays.full, plays.dimmed);
        }
        add("}};\n\n");
    }

    static std::string_view line(TappedLine line) {
        return line == TappedLine::second_brake ? "brake" : bike::name(line);
    }

    void add_taps() {
        add("/// Where the factory lines are read: {}\n", reason(vehicle_, "board.tap_pins"));
        const FrontEnd front_end = *front_end_of(vehicle_);
        if (front_end.input == InputKind::adc)
            add("/// Counts of 1024 over {:g} V; {:g} and {:g} kohm pass on {:.4f} of the line. High from "
                "{:g} V of the "
                "line on,\n/// low below {:g} V: {}\n",
                *front_end.pin_v, *front_end.top_kohm, *front_end.bottom_kohm,
                *front_end.bottom_kohm / (*front_end.top_kohm + *front_end.bottom_kohm), front_end.on_above_v,
                front_end.off_below_v, reason(vehicle_, "front_end.on_above"));
        else
            add("/// By {}: {}\n",
                front_end.input == InputKind::schmitt ? "Schmitt triggers" : "the pins' own levels",
                reason(vehicle_, "front_end.input"));
        add("constexpr Tap taps[] = {{\n");
        for (const PlannedTap& tap : plan_.taps) {
            const std::string end =
                tap.counts ? fmt::format(", {}, {}", tap.counts->high, tap.counts->low) : "";
            add("    {}(Lines::{}, {}, {}{}), // {} at {}\n", tap.counts ? "adc_tap" : "digital_tap",
                line(tap.line), pin(tap.pin), tap.lit_high, end, measure::name(tap.line),
                bike::text(*tap.pin));
        }
        add("}};\n\n");
    }

    void add_outputs() {
        const PlannedRegisters& r = plan_.registers;
        if (r.outputs == 0)
            add("/// There are no registers.\n");
        else
            add("/// Latch {}: {}\n/// Enable {}: {}\n/// Shift clock: {}\n", bike::text(*r.latch),
                reason(vehicle_, "board.register_latch"), bike::text(*r.enable),
                reason(vehicle_, "board.register_enable"), reason(vehicle_, "board.shift_hz"));
        add("constexpr Registers registers{{{}, {}, {}, {}, {}}};\n\n", r.outputs, r.level, pin(r.latch),
            pin(r.enable), r.shift_hz);
        add("/// Group, its first lamp, first output, how many.\nconstexpr RegisterRun register_runs[] = "
            "{{\n");
        for (const PlannedRun& run : plan_.runs)
            add("    {{{}, {}, {}, {}}}, // {}\n", run.group, run.first_lamp, run.first_output, run.count,
                plain_remark(group(run.group).name));
        if (plan_.runs.empty()) add("    {{0, 0, 0, 0}},\n");
        add("}};\n\n/// Group, lamp, pin.\nconstexpr PinLamp pin_lamps[] = {{\n");
        for (const PlannedPin& lamp : plan_.pins)
            add("    {{{}, {}, {}}}, // {} at {}\n", lamp.group, lamp.lamp, pin(lamp.pin),
                plain_remark(group(lamp.group).name), bike::text(*lamp.pin));
        if (plan_.pins.empty()) add("    {{0, 0, Pin::none}},\n");
        add("}};\n");
    }

    const PackCase& pack_;
    const Vehicle& vehicle_;
    const BoardPlan& plan_;
    std::string text_;
};

} // namespace

std::string bike_header_text(const PackCase& pack) {
    return BikeHeader(pack).text();
}

} // namespace winkhold::bike
