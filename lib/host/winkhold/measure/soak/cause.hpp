/// What went wrong in a ride, and why: judged from what was drawn and from the settled flashes, never from
/// what the decoder thought.
#pragma once

#include "winkhold/measure/score/figures.hpp"
#include "winkhold/measure/soak/bike.hpp"
#include "winkhold/measure/waveform/ride.hpp"

#include <array>
#include <string_view>

namespace winkhold::measure {

/// The first three as in Figures. A latency is late beyond what the settings can promise on any bike:
/// - acquire: twice bounce (a contact that has just opened rests first) + input filter + settle; the second
///   side of a hazard its rise skew more; with handover a blink more, which a newcomer has to stand
/// - release: hold after the last light, with bounce, input filter and (hazard) fall skew
/// - overlap: the handover window; without one, the hold
enum class SoakKind { dropout, false_show, missed, late_acquire, late_release, late_overlap };
inline constexpr std::array<std::string_view, 6> soak_kinds{"dropout",      "false-show",   "missed",
                                                            "late-acquire", "late-release", "late-overlap"};

/// Whose fault is it?
enum class Blame {
    asked_too_much, ///< these settings can't serve this bike
    price,          ///< a rule that lib/core/README.md states costs this
    unexplained,    ///< a finding about the decoder
};
inline constexpr std::array<std::string_view, 3> blames{"asked-too-much", "price", "unexplained"};

/// Why something went wrong; texts are in `soak_causes`, by the same numbers.
enum class Cause {
    line_disturbed,
    rhythm_changed,
    flash_missing,
    fumbled,
    touched,
    gap_beyond_hold,
    bounce_beyond_settle,
    too_short_to_settle,
    rise_skew_beyond_handover,
    fall_skew_beyond_window,
    fall_skew_fills_dark,
    both_contacts_closed,
    not_learned,
    gap_beyond_learned,
    flash_beyond_learned,
    cut_by_switch,
    gap_by_switch,
    hazard_joined,
    taken_over,
    handover_pending,
    fall_pending,
    hazard_held,
    flashed_alone,
    unexplained,
};

/// What a cause is called, what it means, and whether it blames the decoder.
struct CauseText {
    Blame blame;
    std::string_view name;
    std::string_view meaning; ///< how it is decided
};

/// By Cause. The first that fits is taken, in the order of the rule that must have acted.
inline constexpr std::array<CauseText, 24> soak_causes{{
    {Blame::price, "line-disturbed",
     "breaks, stray pulses, hum or half waves changed what the lines read within the last 2 s"},
    {Blame::price, "rhythm-changed", "the flasher took another rhythm within the last 2 s"},
    {Blame::price, "flash-missing", "a flash stayed dark within the last 2 s"},
    {Blame::price, "fumbled", "the switch was pressed and let go within the last 2 s"},
    {Blame::price, "touched", "a light that nobody asks for came within the last 2 s"},
    {Blame::asked_too_much, "gap-beyond-hold", "the dark gap is longer than the hold that was set"},
    {Blame::asked_too_much, "bounce-beyond-settle", "contacts bounced for longer than settle, and it shows"},
    {Blame::asked_too_much, "too-short-to-settle",
     "the light ended before bounce, filter, settle and a blink"},
    {Blame::asked_too_much, "rise-skew-beyond-handover", "the sides rose further apart than the window"},
    {Blame::asked_too_much, "fall-skew-beyond-window", "the sides fell further apart than the fall window"},
    {Blame::asked_too_much, "fall-skew-fills-dark",
     "a side of a hazard falls so late that it is hardly dark"},
    {Blame::asked_too_much, "both-contacts-closed",
     "a switch so fast, or make before break, that both sides read lit"},
    {Blame::price, "not-learned",
     "the gap beats the learned ones, or the measured one, and guard; few are known"},
    {Blame::price, "gap-beyond-learned", "the gap beats the longest of the last 24 and guard"},
    {Blame::price, "flash-beyond-learned", "shorter than one of the last 48, beyond the cut margin"},
    {Blame::price, "cut-by-switch", "the rider's switch cut a flash short, and the side stays asked for"},
    {Blame::price, "gap-by-switch", "the rider's switch made the dark gap"},
    {Blame::price, "hazard-joined", "a hazard pressed during a turn: a side alone for the skew"},
    {Blame::price, "taken-over", "the other side rose alone while this one was dark"},
    {Blame::price, "handover-pending", "a handover window was open"},
    {Blame::price, "fall-pending", "one side dark while the other stayed lit for the fall window"},
    {Blame::price, "hazard-held",
     "both sides had risen together: one light counts for both until one flashes alone"},
    {Blame::price, "flashed-alone",
     "after both had risen together the other side was lit alone for long enough"},
    {Blame::unexplained, "unexplained", "none of these"},
}};

/// Something that went wrong in a ride, with its cause.
struct SoakFinding {
    SoakKind kind;
    Cause cause;
    core::Side side; ///< not of an overlap
    TimeUs t_us;
    TimeUs value_us; ///< of a latency; else 0
};

/// What one ride came to. Order: as for_each_scored().
struct SoakVerdict {
    std::vector<SoakFinding> findings;
    std::vector<Scored> latencies; ///< each acquire, release and overlap; without `asked` and `change`
};

/// `undisturbed`: what the lines would have read with faultless taps; null if they are.
void judge_soak_ride(const SoakRide& soak, const Ride& ride, const Timeline& timeline, SoakVerdict& verdict,
                     const Trace* undisturbed = nullptr);

} // namespace winkhold::measure
