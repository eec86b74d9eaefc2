/// What the lines say, up from the board and down from the computer, with the fields of each. Both ends are
/// written from this table.
#pragma once

#include "winkhold/core/board.hpp"
#include "winkhold/link/line.hpp"

namespace winkhold {
namespace link {

/// This version. The recorder's log without numbers and checksums is version 1.
constexpr uint8_t version = 2;

/// Up. Times are the board's, in us, and wrap as its clock does.
namespace up {
/// version, hash of the vehicle file (8 hex), build of the firmware (8 hex), why it started: Start
constexpr char hello = 'b';
/// the fields of put_settings(), then where they come from: Origin
constexpr char settings = 's';
/// time, raw taps from then on (2 hex, bits as core::Lines has them)
constexpr char edge = 'e';
/// time, indication (0-3), settled taps (2 hex)
constexpr char indication = 'i';
/// time, faults of the left line, of the right line (2 hex each, a mask of core::Fault)
constexpr char faults = 'f';
/// time, group, lit, level, rest: core::GroupFrame; only if asked for
constexpr char lamps = 'l';
/// since the start: lines dropped because the port was full, edges among them, lines from below that were
/// damaged, samples that came late
constexpr char counters = 'c';
/// time, raw taps (2 hex), indication (0-3); each second
constexpr char heartbeat = 'h';
/// number of the line it answers (4 hex), Answer
constexpr char answer = 'a';
} // namespace up

/// Down. A board that hears nothing for `silence_us` puts back the settings it had before anything was tried.
namespace down {
/// the fields of put_settings(): to be tried
constexpr char settings = 's';
/// the settings in force are to be kept through power-off
constexpr char store = 'w';
/// those tried or stored are to be dropped, and the firmware's own used
constexpr char forget = 'x';
/// hello, settings and counters, please
constexpr char ask = 'q';
/// 1: lamp frames, please; 0: no more
constexpr char lamps = 'l';
/// group, level: light it alone, at that brightness; level 0 ends it
constexpr char lamp_test = 't';
/// nothing to say, but still here
constexpr char here = 'k';
} // namespace down

/// Longest silence of the computer before a setting that it tried falls back.
constexpr uint32_t silence_us = 60000000;

/// Why the board began anew.
enum class Start : uint8_t { power, reset, brown_out, watchdog };
/// Where the settings in force come from.
enum class Origin : uint8_t { firmware, stored, tried };
/// What a line from the computer led to.
enum class Answer : uint8_t {
    done,
    not_understood, ///< no such line, or fields that are none
    refused,        ///< settings that fail the core's check
    unsafe,         ///< settings that no bike may ride with: allowed_on_a_bike()
    lines_lit,      ///< lamp test: only while left, right and brake are dark
    busy,           ///< still writing what was stored before
};

/// Settings that may be tried on a bike, beyond what core::check() asks: a brake light must not wait, and no
/// answer may outlast its light by more than a long dark phase. Settle at most 20 ms, hold at most 1.2 s.
constexpr bool allowed_on_a_bike(const core::Settings& s) {
    return s.settle_us <= 20000 && s.hold_us <= 1200000;
}

/// All tunables as fields, in the order of their declaration; times in us.
inline void put_settings(LineWriter& line, const core::Settings& s) {
    const core::Span times[] = {s.settle_us,      s.pwm_gap_us,    s.hold_us,
                                s.guard_us,       s.gap_prior_us,  s.handover_us,
                                s.fall_window_us, s.cut_margin_us, s.supply_gone_us};
    for (const core::Span time : times)
        line.number(time);
    line.number(static_cast<uint32_t>(s.rule));
    line.number(s.cut_short ? 1 : 0);
    line.number(s.spread ? 1 : 0);
}
/// The same, read. fields.failed() tells if there were none; they may still fail core::check().
inline core::Settings take_settings(Fields& fields) {
    core::Settings s;
    core::Span* const times[] = {&s.settle_us,      &s.pwm_gap_us,    &s.hold_us,
                                 &s.guard_us,       &s.gap_prior_us,  &s.handover_us,
                                 &s.fall_window_us, &s.cut_margin_us, &s.supply_gone_us};
    for (core::Span* const time : times)
        *time = static_cast<core::Span>(fields.number(5000000));
    s.rule = static_cast<core::HoldRule>(fields.number(1));
    s.cut_short = fields.number(1) != 0;
    s.spread = fields.number(1) != 0;
    return s;
}

} // namespace link
} // namespace winkhold
