#include "winkhold/bike/electrics/detail/judge_board.hpp"
#include "winkhold/bike/electrics/outputs.hpp"
#include "winkhold/bike/pins/chip_pins.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>

namespace winkhold::bike {
namespace {

constexpr const char* board_part = "board";

/// Of every group that this pin switches; all pins: an empty name.
FieldNames fields_of_pin(const Board& board, const Lamps& lamps, LampDriver driver, const std::string& pin) {
    FieldNames fields;
    for (std::size_t i = 0; i < lamps.size(); ++i)
        if (lamps[i].driver == driver &&
            (pin.empty() || std::count(lamps[i].pins.begin(), lamps[i].pins.end(), pin) > 0))
            fields = fields + fields_of_strings(lamps, i, board.from_regulator(driver));
    return fields;
}

void at_most(const char* what, const std::string& of, double ma, const std::optional<double>& limit_ma,
             const char* key, const FieldNames& fields, Checks& checks) {
    const std::string text = of.empty() ? what : fmt::format("{} {}", what, of);
    if (limit_ma)
        checks.push_back(resting_on(fields + fields_in("board", {key}),
                                    judged(board_part, text, ma, Bound::at_most, *limit_ma, "mA",
                                           fmt::format("{} in the file", key),
                                           "fewer strings on it, or a driver behind it")));
    else
        checks.push_back(
            not_judged(board_part, text, fmt::format("{} in [board]; it is {:.0f} mA", key, ma)));
}

void judge_board_pins(const Board& board, const Lamps& lamps, const std::vector<PinLoad>& pins,
                      Checks& checks) {
    std::map<std::string, double> ports;
    double package_ma = 0;
    bool unnamed = false;
    for (const PinLoad& pin : pins) {
        if (pin.driver != LampDriver::pin) continue;
        at_most("current of pin", pin.pin, pin.most_ma, board.pin_ma, "pin_ma",
                fields_of_pin(board, lamps, pin.driver, pin.pin), checks);
        package_ma += pin.most_ma;
        const std::string port = port_of(pin.pin);
        unnamed = unnamed || port.empty();
        if (!port.empty()) ports[port] += pin.most_ma;
    }
    const FieldNames all = fields_of_pin(board, lamps, LampDriver::pin, "");
    for (const auto& [port, ma] : ports)
        at_most("current of port", port, ma, board.port_ma, "port_ma", all, checks);
    if (unnamed)
        checks.push_back(
            not_judged(board_part, "current of ports",
                       "pins named by port, like PB1, or as printed, like D9, in pins of [[lamps]]"));
    if (package_ma > 0)
        at_most("current of the package", "", package_ma, board.package_ma, "package_ma", all, checks);
}

void judge_parts(const Board& board, const Lamps& lamps, const std::vector<PinLoad>& pins, Checks& checks) {
    for (const PinLoad& pin : pins) {
        const FieldNames fields = fields_of_pin(board, lamps, pin.driver, pin.pin);
        if (pin.driver == LampDriver::transistor)
            at_most("current of the transistor at", pin.pin, pin.most_ma, board.transistor_ma,
                    "transistor_ma", fields, checks);
        if (pin.driver != LampDriver::shift_register) continue;
        at_most("current of each output of", pin.pin, pin.most_ma / pin.strings, board.register_pin_ma,
                "register_pin_ma", fields, checks);
        at_most("current of register", pin.pin, pin.most_ma, board.register_package_ma, "register_package_ma",
                fields, checks);
        checks.push_back(resting_on(fields + fields_in("board", {"register_outputs"}),
                                    judged(board_part, "strings on " + pin.pin, pin.strings, Bound::at_most,
                                           board.register_outputs, "", "register_outputs in the file",
                                           "a second register")));
    }
}

constexpr const char* timers_source = "ATmega328P data sheet, outputs of its timers (from memory)";

/// What the lamps play against what pins and registers can do.
void judge_outputs(const Board& board, const Lamps& lamps, Checks& checks) {
    const std::vector<OutputBreach> breaches = output_breaches(board, lamps);
    /// `of` nothing, or a group; `fields`: what it rests on.
    const auto judge = [&](std::optional<std::size_t> of, const std::string& can, const std::string& missing,
                           const FieldNames& fields) {
        const std::size_t first = checks.size();
        for (const OutputBreach& breach : breaches)
            if (breach.group == of)
                checks.push_back(judged(board_part,
                                        of ? fmt::format("{} {}", lamps[*of].name, breach.what) : breach.what,
                                        false, timers_source, breach.advice));
        if (checks.size() == first)
            checks.push_back(missing.empty() ? judged(board_part, can, true, timers_source, "")
                                             : not_judged(board_part, can, missing));
        rest_on(fields, checks, first);
    };
    bool registers = false;
    for (std::size_t i = 0; i < lamps.size(); ++i) {
        const LampGroup& group = lamps[i];
        const bool by_register = group.driver == LampDriver::shift_register;
        registers = registers || by_register;
        if (!group.driver || (!by_register && group.pins.empty())) continue; // told elsewhere
        const FieldNames fields = fields_in(fmt::format("lamps.{}", i), {"driver"});
        judge(i, fmt::format("outputs can show what {} plays", group.name),
              unknown_pins(group).empty() ? "" : "pins named by port, like PB1, or as printed, like D9",
              by_register ? fields : fields + fields_in(fmt::format("lamps.{}", i), {"pins"}));
    }
    if (!registers) return;
    FieldNames said;
    std::string missing;
    for (const auto& [key, pin] : {std::pair("register_data", &board.register_data),
                                   {"register_clock", &board.register_clock},
                                   {"register_latch", &board.register_latch},
                                   {"register_enable", &board.register_enable}}) {
        if (pin->empty())
            missing += fmt::format("{}{}", missing.empty() ? "" : ", ", key);
        else
            said = said + fields_in("board", {key});
    }
    judge({}, "pins can drive the registers", missing.empty() ? "" : missing + " in [board]", said);
}

void judge_pwm(const Board& board, Checks& checks) {
    const char* const what = "PWM frequency";
    if (!board.pwm_hz) {
        checks.push_back(not_judged(board_part, what, "pwm_hz in [board]; lamps are dimmed"));
        return;
    }
    const std::size_t first = checks.size();
    // a board's own oscillator is off by up to 10 % (ATmega328P, read), so 490 Hz may be 539
    const double off = 0.1;
    const bool phantom = *board.pwm_hz * (1 + off) >= 500 && *board.pwm_hz * (1 - off) <= 1000;
    checks.push_back(judged(
        board_part, fmt::format("{:g} Hz PWM is not where phantom arrays are most visible", *board.pwm_hz),
        !phantom,
        "500-1000 Hz: Lighting Research & Technology, doi 10.1177/14771535231169904 (read); "
        "clock 10 % off (read)",
        "well above 1 kHz: a smaller timer prescaler"));
    checks.push_back(judged(board_part, what, *board.pwm_hz, Bound::at_least, 1'250, "Hz",
                            "low risk of flicker at full depth, IEEE 1789 (from memory)",
                            "a smaller timer prescaler"));
    rest_on(fields_in("board", {"pwm_hz"}), checks, first);
}

void judge_refresh(const Board& board, const Lamps& lamps, const std::vector<PinLoad>& pins, Checks& checks) {
    TimeUs step_us = 0;
    for (const LampGroup& group : lamps) {
        if (group.driver != LampDriver::shift_register) continue;
        const auto own_us = static_cast<TimeUs>(group.plays.pattern.step_us);
        if (!group.plays.all_at_once() && (step_us == 0 || own_us < step_us)) step_us = own_us;
    }
    const auto registers = std::count_if(pins.begin(), pins.end(), [](const PinLoad& pin) {
        return pin.driver == LampDriver::shift_register;
    });
    if (registers == 0) return;
    const double bits = static_cast<double>(registers) * board.register_outputs;
    if (!board.shift_hz) {
        checks.push_back(not_judged(board_part, "refresh of the registers", "shift_hz in [board]"));
        return;
    }
    const std::size_t first = checks.size();
    if (step_us > 0)
        checks.push_back(judged(board_part, "refresh of all registers in one chain",
                                bits / *board.shift_hz * 1e3, Bound::at_most,
                                static_cast<double>(step_us) / 1e3, "ms",
                                "shortest step of the sequence in the file", "a faster shift clock"));
    rest_on(fields_in("board", {"shift_hz", "register_outputs"}), checks, first);
}

void judge_reset(const Board& board, const Lamps& lamps, Checks& checks) {
    const auto uses = [&](LampDriver driver) {
        return std::any_of(lamps.begin(), lamps.end(),
                           [&](const LampGroup& g) { return g.driver == driver; });
    };
    const auto held = [&](const char* what, const std::optional<double>& kohm, const char* key,
                          const char* advice) {
        if (!kohm)
            checks.push_back(not_judged(board_part, what, fmt::format("{} in [board]; 0: none", key)));
        else
            checks.push_back(
                resting_on(fields_in("board", {key}),
                           judged(board_part, what, *kohm > 0, "derived: pins float in reset", advice)));
    };
    if (uses(LampDriver::transistor))
        held("transistors are off in reset", board.gate_pulldown_kohm, "gate_pulldown_kohm",
             "a resistor from each gate to its off level, 10-100 kohm");
    if (uses(LampDriver::shift_register))
        held("registers are off in reset", board.enable_pullup_kohm, "enable_pullup_kohm",
             "a pull-up at the registers' enable input; outputs are undefined at power-up");
    if (uses(LampDriver::pin))
        checks.push_back(judged(board_part, "lamps on pins are dark in reset", true,
                                "pins are inputs in reset, ATmega328P data sheet (from memory)", ""));
}

} // namespace

void judge_drivers(const Board& board, const Lamps& lamps, const std::vector<PinLoad>& pins, Checks& checks) {
    judge_board_pins(board, lamps, pins, checks);
    judge_parts(board, lamps, pins, checks);
    if (std::any_of(lamps.begin(), lamps.end(), [](const LampGroup& g) { return needs_pwm(g.plays); }))
        judge_pwm(board, checks);
    judge_outputs(board, lamps, checks);
    judge_refresh(board, lamps, pins, checks);
    judge_reset(board, lamps, checks);
}

} // namespace winkhold::bike
