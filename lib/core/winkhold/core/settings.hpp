/// Every tunable of the decoder, and the check that refuses a bad set.
#pragma once

#include "winkhold/core/micros.hpp"

namespace winkhold {
namespace core {

using namespace literals;

/// How long silence is bridged once the line is dark.
enum class HoldRule : uint8_t {
    fixed, ///< always `hold_us`
    paced, ///< what the gaps of the rhythm ask for + `guard_us`, never more than `hold_us`
};

/// Times are in microseconds. The defaults suit a bike that nobody has measured yet.
struct Settings {
    /// A level counts once it has stood this long. Range: [0, 1 s]. Default: past a worn relay's bounce
    /// (survey maximum 6.2 ms, quoted; 1-5 ms typical). Costs: the same time on acquire.
    Span settle_us{5_ms};

    /// Lows shorter than this belong to the on phase; 0: the line is not chopped by PWM. Range: [0, 1 s].
    Span pwm_gap_us{0};

    /// Longest dark gap bridged as one indication, counted from the last high. Under the paced rule it is
    /// the cold-start hold and the ceiling. Range: [max(settle, PWM gap, 1 ms), 5 s]. Default: the longest
    /// gap that counts as rhythm; 45 flashes/min at 30 % duty are 933 ms dark (derived). Costs: the same time
    /// on release of a cancelled signal, under the paced rule only of one cancelled before its second flash.
    Span hold_us{1000_ms};

    /// Paced rule: margin on top of the longest learned dark gap. Range: [0, 5 s]. Default: with `spread`;
    /// without it 40 ms serve jitter of 1 %.
    Span guard_us{10_ms};

    /// Paced rule: this bike's dark gap, if somebody has measured it; used until one is learned, and after a
    /// first flash, with a quarter on top if `spread`; not after anything irregular. 0: not known. Range: [0,
    /// 1 s]. Gains: a single flash is released after that + guard instead of `hold_us`.
    Span gap_prior_us{0};

    /// Handover: both sides rising within this window are a hazard; a newcomer that stands alone for a blink
    /// takes over. 0: off, both sides are then held independently. Range: [0, 1 s). Default:
    /// above the skew of both sides (0-20 ms, from memory), below the shortest on time (150 ms, derived).
    Span handover_us{60_ms};

    /// A newcomer has lit beside a side that was lit; that one goes dark. If the newcomer stays lit this
    /// long, it goes on alone; if it has only just risen, the handover window is enough. 0: never. Range: [0,
    /// 1 s). Default: lamps with input capacitors fall 3-31 ms late (derived), up to 80 ms.
    Span fall_window_us{100_ms};

    /// Margin on learned times, with `spread`: an on phase this much shorter than the least learned one is
    /// cut short, a gap this much shorter or longer is no gap of the rhythm. Range: [0, 1 s].
    Span cut_margin_us{10_ms};

    /// The supply tap, once it has been seen high, is low for this long: everything off. Until then a fall is
    /// the supply's, not the rider's. 0: no look at the supply. Range: [0, 1 s]. Default: past the dips of
    /// 5-100 ms.
    Span supply_gone_us{120_ms};

    HoldRule rule{HoldRule::paced};
    bool cut_short{true};
    bool spread{true}; ///< margins grow with the range of the learned times
};

/// Limits that do not depend on the settings.
namespace built_in {
constexpr Span least_hold_us = 1_ms;
constexpr Span longest_hold_us = 5_s;
/// Longest settle, PWM gap, cut margin.
constexpr Span longest_window_us = 1_s;
/// A dark gap longer than this is silence, not rhythm: 45/min at 30 % duty are 933 ms dark (derived).
constexpr Span longest_gap_us = 1_s;
/// A settled gap shorter than this is chatter (an old hand switch bounces up to 20 ms, common practice): the
/// flash goes on. A light shorter than this is no flash, and where none is due it is not shown before.
constexpr Span blink_us = 40_ms;
/// A flash of a hazard that has stood this long without the other side's is a turn's: a contact that breaks
/// is back by then (common practice, no source).
constexpr Span lone_flash_us = 250_ms;
/// A line that stays on longer is stuck (welded contact, thermal flasher under a light load).
constexpr Span longest_on_us = 3_s;
/// Two periods in a row below this are fast: 120/min is the published ceiling (SAE J945, as quoted in
/// NHTSA interpretation letters) and 10 % allow for tolerance.
constexpr Span fast_period_us = 450_ms;
/// This many raw changes within the window without settling are chatter, or PWM nobody declared.
constexpr Span chatter_window_us = 100_ms;
constexpr uint8_t chatter_changes = 10;
/// Longest step, stay and blank of a lamp pattern, and longest fill with its stay.
constexpr Span longest_play_us = 5_s;
} // namespace built_in

/// Why check() refuses a set of settings: the first thing that is wrong with it.
enum class SettingsError : uint8_t {
    none,
    settle_out_of_range,
    pwm_gap_out_of_range,
    hold_out_of_range,
    hold_below_settle,
    hold_below_pwm_gap,
    guard_out_of_range,
    handover_out_of_range,
    cut_margin_out_of_range,
    gap_prior_out_of_range,
    fall_window_out_of_range,
    supply_gone_out_of_range,
};

/// First thing wrong with `s`, or none. Nothing is ever clamped: firmware states
/// `static_assert(check(settings) == SettingsError::none, "")`, a host refuses the input.
constexpr SettingsError check(const Settings& s) {
    if (s.settle_us > built_in::longest_window_us) return SettingsError::settle_out_of_range;
    if (s.pwm_gap_us > built_in::longest_window_us) return SettingsError::pwm_gap_out_of_range;
    if (s.hold_us < built_in::least_hold_us || s.hold_us > built_in::longest_hold_us)
        return SettingsError::hold_out_of_range;
    if (s.hold_us < s.settle_us) return SettingsError::hold_below_settle;
    if (s.hold_us < s.pwm_gap_us) return SettingsError::hold_below_pwm_gap;
    if (s.guard_us > built_in::longest_hold_us) return SettingsError::guard_out_of_range;
    if (s.handover_us >= built_in::longest_gap_us) return SettingsError::handover_out_of_range;
    if (s.cut_margin_us > built_in::longest_window_us) return SettingsError::cut_margin_out_of_range;
    if (s.gap_prior_us > built_in::longest_gap_us ||
        (s.gap_prior_us != 0 && (s.gap_prior_us < s.settle_us || s.gap_prior_us < s.pwm_gap_us)))
        return SettingsError::gap_prior_out_of_range;
    if (s.fall_window_us >= built_in::longest_gap_us) return SettingsError::fall_window_out_of_range;
    if (s.supply_gone_us > built_in::longest_window_us) return SettingsError::supply_gone_out_of_range;
    return SettingsError::none;
}

/// What every stage is told: the settings, and the moment it is.
struct Context : Settings {
    /// At moment 0, with settings that have passed check().
    constexpr explicit Context(const Settings& settings) : Settings(settings) {}

    /// From `then` to the present moment. Unit: us.
    constexpr Span since_us(Moment then) const { return elapsed_us(now, then); }

    Moment now{};
};

static_assert(check(Settings{}) == SettingsError::none, "the defaults pass their own check");

} // namespace core
} // namespace winkhold
