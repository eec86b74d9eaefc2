/// What a bike.hpp must keep to; another one does not compile.
#pragma once

#include "bike.hpp"
#include "inputs.hpp"
#include "lamps.hpp"

namespace winkhold {
namespace firmware {

static_assert(check(bike::settings) == core::SettingsError::none, "bike::settings are out of range");
static_assert(check(bike::timing, bike::groups, group_count) == core::SequenceError::none,
              "bike::timing or a group is out of range");
static_assert(bike::registers.shift_hz >= 125000, "the SPI is no slower than 125 kHz");
static_assert(bike::registers.level != 0 && (bike::registers.level == 255 || has_pwm(bike::registers.enable)),
              "registers are dimmed by PWM on their enable pin");
static_assert(bike::park_after_s <= 3600, "the clock tells times up to 71 minutes apart");

/// Registers can be on at their one level, or off.
constexpr bool register_can_show(uint8_t level) {
    return level == 0 || level == bike::registers.level;
}
constexpr bool registers_can_show_their_groups() {
    for (const RegisterRun& run : bike::register_runs) {
        if (run.count == 0) continue;
        if (run.group >= group_count || run.first_output + run.count > bike::registers.outputs) return false;
        const core::LampGroup& group = bike::groups[run.group];
        if (run.first_lamp + run.count > group.count) return false;
        if (group.pattern.fills == core::Pattern::Fills::brightness && !group.all_at_once()) return false;
        if (!register_can_show(group.full) || !register_can_show(group.dimmed)) return false;
    }
    return true;
}
static_assert(registers_can_show_their_groups(),
              "a run of register outputs is too long, fades, or has a brightness of its own");

/// No output is in two runs.
constexpr bool each_output_has_one_lamp() {
    for (const RegisterRun& one : bike::register_runs)
        for (const RegisterRun& other : bike::register_runs)
            if (&one != &other && one.first_output < other.first_output + other.count &&
                other.first_output < one.first_output + one.count)
                return false;
    return true;
}
static_assert(each_output_has_one_lamp(), "two runs of register outputs have an output in common");

constexpr bool pins_can_show_their_groups() {
    for (const PinLamp& lamp : bike::pin_lamps) {
        if (lamp.pin == Pin::none) continue;
        if (lamp.pin == Pin::adc6 || lamp.pin == Pin::adc7) return false;
        if (lamp.group >= group_count || lamp.lamp >= bike::groups[lamp.group].count) return false;
        const core::LampGroup& group = bike::groups[lamp.group];
        const bool fades = group.pattern.fills == core::Pattern::Fills::brightness && !group.all_at_once();
        const bool on_or_off =
            !fades && (group.full == 0 || group.full == 255) && (group.dimmed == 0 || group.dimmed == 255);
        if (!has_pwm(lamp.pin) && !on_or_off) return false;
    }
    return true;
}
static_assert(pins_can_show_their_groups(), "a pin lamp is of no group, or needs a pin that has PWM");

/// A bit for each pin; false if one is taken twice.
constexpr bool take(Pin pin, uint32_t& taken) {
    if (pin == Pin::none) return true;
    const uint32_t bit = 1ul << number_of(pin);
    const bool is_free = (taken & bit) == 0;
    taken |= bit;
    return is_free;
}
constexpr bool each_pin_has_one_use() {
    uint32_t taken = 1ul << number_of(Pin::d0) | 1ul << number_of(Pin::d1); // the UART's
    if (register_bytes != 0 && !(take(Pin::b3, taken) && take(Pin::b5, taken) &&
                                 take(bike::registers.latch, taken) && take(bike::registers.enable, taken)))
        return false;
    for (const Tap& tap : bike::taps)
        if (!take(tap.pin, taken)) return false;
    for (const PinLamp& lamp : bike::pin_lamps)
        if (!take(lamp.pin, taken)) return false;
    return true;
}
static_assert(each_pin_has_one_use(), "a pin has two uses, or is one of the UART's or of the SPI's");

constexpr bool taps_can_be_read() {
    for (const Tap& tap : bike::taps) {
        const bool on_port_c = tap.pin >= Pin::c0 && tap.pin <= Pin::adc7;
        if (tap.analog() ? !on_port_c || tap.low_count >= tap.high_count || tap.high_count > 1023
                         : tap.pin == Pin::adc6 || tap.pin == Pin::adc7 || tap.pin == Pin::none)
            return false;
        if (register_bytes != 0 && tap.pin == Pin::b2) return false; // low there ends the SPI's being master
    }
    return true;
}
static_assert(taps_can_be_read(), "a tap is on a pin that cannot read it, or its thresholds are swapped");

} // namespace firmware
} // namespace winkhold
