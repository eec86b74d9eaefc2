/// One bike, as data: all that differs from bike to bike. This is the demo bike; its values are those of
/// data/vehicles/demo.toml. The firmware reads nothing but this file and the core.
#pragma once

#include "parts.hpp"

namespace winkhold {
namespace bike {

using namespace core;
using namespace firmware;

/// Of the vehicle file. Settings kept in the EEPROM for another file's bike are not used.
constexpr uint32_t vehicle_hash = 0x00000000;

constexpr Settings make_settings() {
    Settings s;
    s.settle_us = 5_ms;
    s.pwm_gap_us = 0_ms;
    s.hold_us = 1000_ms;
    s.guard_us = 10_ms;
    s.gap_prior_us = 0_ms;
    s.handover_us = 60_ms;
    s.fall_window_us = 100_ms;
    s.cut_margin_us = 10_ms;
    s.supply_gone_us = 120_ms;
    s.rule = HoldRule::paced;
    s.cut_short = true;
    s.spread = true;
    return s;
}
constexpr Settings settings = make_settings();

constexpr SequenceSettings make_timing() {
    SequenceSettings s;
    s.source = FlashSource::following;
    s.on_us = 0_ms;
    s.dark_us = 0_ms;
    s.on_prior_us = 0_ms;
    return s;
}
constexpr SequenceSettings timing = make_timing();

/// Job, side, lamps, pattern, full, dimmed.
constexpr LampGroup groups[] = {
    {Job::turn, Indication::left, 6, outward(30_ms), 255, 0},  // 0 front left
    {Job::turn, Indication::right, 6, outward(30_ms), 255, 0}, // 1 front right
    {Job::turn, Indication::left, 6, outward(30_ms), 255, 0},  // 2 rear left
    {Job::turn, Indication::right, 6, outward(30_ms), 255, 0}, // 3 rear right
    {Job::stop, Indication::hazard, 18, together(), 255, 40},  // 4 stop
    {Job::marker, Indication::left, 5, together(), 120, 0},    // 5 marker left
    {Job::marker, Indication::right, 5, together(), 120, 0},   // 6 marker right
};

/// 120 and 47 kilohms: 0.2814 of the line. High from 5.0 V on: 1.407 V at the pin, 288.2 of 1024 counts over
/// 5 V; low below 3.5 V: 0.985 V, 201.7 counts. Rounded away from each other.
constexpr Tap taps[] = {
    adc_tap(Lines::left, Pin::c0, true, 289, 201),   // A0
    adc_tap(Lines::right, Pin::c1, true, 289, 201),  // A1
    adc_tap(Lines::brake, Pin::c2, true, 289, 201),  // A2
    adc_tap(Lines::tail, Pin::c3, true, 289, 201),   // A3
    adc_tap(Lines::supply, Pin::c4, true, 289, 201), // A4
};

/// SR1 to SR4 of 8 outputs each; latch D10, enable D3.
constexpr Registers registers{32, 255, Pin::b2, Pin::d3, 4000000};

/// Group, its first lamp, first output, how many. Without registers: one run of 0 outputs.
constexpr RegisterRun register_runs[] = {
    {0, 0, 0, 6},  // SR1.1 to SR1.6
    {1, 0, 8, 6},  // SR2.1 to SR2.6
    {2, 0, 16, 6}, // SR3.1 to SR3.6
    {3, 0, 24, 6}, // SR4.1 to SR4.6
};

/// Group, lamp, pin. Without any: one with Pin::none.
constexpr PinLamp pin_lamps[] = {
    {4, 0, Pin::b1}, // D9
    {5, 0, Pin::d5}, // D5
    {6, 0, Pin::d6}, // D6
};

/// All taps dark for this long: the board is parked, all its lamps dark, and it sleeps. 0: never. Never with
/// a marker group unless there is a tap for the supply: how else would it know that the key is off?
constexpr uint16_t park_after_s = 60;

} // namespace bike
} // namespace winkhold
