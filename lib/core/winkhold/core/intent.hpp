/// Two lines -> what the rider asked for: cut-short release, hazard or side change, key off.
#pragma once

#include "winkhold/core/cadence.hpp"
#include "winkhold/core/lines.hpp"
#include "winkhold/core/watch.hpp"

namespace winkhold {
namespace core {

/// Judges settled edges of both lines. It never looks at holds, so its verdicts are the same for every hold
/// time.
///
/// Rises: both sides within the handover window, the first still lit, are a hazard. A side that rises alone
/// takes over from the other, unless that one is lit right then: a side change doesn't light both. Falls: a
/// side that goes dark while the other stays lit beyond the fall window has ended. A line on for over 1 s is
/// no flash and does not count as lit.
///
/// At one moment tell supply() first, then falls, then rises (those that only carry a flash on before true
/// ones), then expire(): which tap has the lower number must make no difference.
class Intent {
public:
    /// What a call ends: sides to let go until they rise again, as a mask like Indication.
    using LetGo = uint8_t;

    WINKHOLD_OUTLINED constexpr LetGo rise(Side side, const Context& c) {
        Cadence& line = at(side);
        const Cadence& rival = at(other(side));
        const bool newcomer = (gone_ & mask(side)) != 0;
        gone_ = gone_ & other_mask(side);
        beat_ = line.rise(usual_, c);
        if (beat_ == Beat::resumed) return 0;
        const bool rival_lit = lit(rival, c);
        // half a hazard is still lit when the other half follows; a flick to the other side is not
        const bool together = rival.lit_within(c.handover_us, c);
        const bool after_hazard = last_risen_ == both_sides;
        const bool takes_turn = rival.timing() && (last_risen_ & mask(side)) == 0;
        last_risen_ = rival_lit ? both_sides : mask(side);
        if (c.handover_us == 0) return 0;
        if (together) {
            if (!rival.lit_within(as_one_us, c))
                as_one_ = 0;
            else if (as_one_ < 3)
                ++as_one_;
            turns_ = 0;
            window_ = Window::none;
            hidden_ = 0;
            return 0;
        }
        if (!after_hazard) as_one_ = 0; // the first of a hazard's two rises says nothing yet
        if (!takes_turn)
            turns_ = 0;
        else if (turns_ < 4)
            ++turns_;
        if (rival_lit) return 0;
        // within a hazard the second side may still follow
        const bool at_once = c.handover_end == HandoverEnd::at_once && !after_hazard;
        if (at_once || hidden_ == other_mask(side)) { // a newcomer too short to have been shown is no rival
            window_ = Window::none;
            hidden_ = 0;
            return let_go(other_mask(side));
        }
        if (window_ == Window::rise && subject_ == side) return 0; // it goes on
        hidden_ = newcomer && takes_turn && c.handover_end == HandoverEnd::delay ? mask(side) : uint8_t{0};
        open(Window::rise, side, c.now, c.handover_us);
        return 0;
    }

    /// `last_high`: the last moment the line read high.
    constexpr LetGo fall(Side side, Moment last_high, const Context& c) {
        cut_ = at(side).fall(last_high, c);
        if (!c.cut_short) cut_ = Cut::no;
        if (window_ != Window::rise) {
            const Cadence& rival = at(other(side));
            if (subject_ != side) window_ = Window::none; // both dark: a hazard's pause
            // a rival that has only just risen is rather a side change than half a hazard: don't wait as long
            Span window_us = c.fall_window_us;
            if (window_us > c.handover_us && rival.lit_within(c.handover_us, c)) window_us = c.handover_us;
            if (c.handover_us != 0 && window_us != 0 && lit(rival, c))
                open(Window::fall, side, last_high, window_us);
        }
        return cut_ == Cut::now ? let_go(mask(side)) : LetGo{0};
    }

    /// The supply tap moved. Taps start low, so the first time it goes up: one that never does is not
    /// connected.
    WINKHOLD_RARE constexpr void supply(bool up, const Context& c) {
        if (c.supply_gone_us == 0) return;
        supply_gone_ = Timer{!up, after(c.now, c.supply_gone_us)};
        if (up) return;
        lines_[0].excuse();
        lines_[1].excuse();
    }

    WINKHOLD_OUTLINED constexpr LetGo expire(const Context& c) {
        LetGo ends = 0;
        if (due(window(), c.now)) {
            const bool rival_lit = lit(at(other(subject_)), c);
            if (window_ == Window::fall) {
                if (rival_lit && !at(subject_).on()) {
                    ends = mask(subject_);
                    last_risen_ = other_mask(subject_); // no hazard runs any more
                }
            } else if (hidden_ != 0 && !at(subject_).on()) { // too short a flash to be a newcomer
                ends = mask(subject_);
            } else if (!rival_lit) { // the newcomer has been alone for long enough
                ends = other_mask(subject_);
            }
            hidden_ = 0;
            window_ = Window::none;
        }
        if (due(supply_gone_, c.now)) {
            supply_gone_.armed = false;
            ends = both_sides;
        }
        lines_[0].expire(c);
        lines_[1].expire(c);
        return let_go(ends);
    }

    constexpr void wait(Soonest& soonest) const {
        soonest.add(window());
        soonest.add(supply_gone_);
        soonest.add(lines_[0].timer());
        soonest.add(lines_[1].timer());
    }

    constexpr const Cadence& cadence(Side side) const { return lines_[static_cast<uint8_t>(side)]; }
    /// Not shown yet, although held: a newcomer that is to be shown only when the window ends. As a mask.
    constexpr LetGo hidden() const { return hidden_; }
    /// On for longer than any flash. As a mask.
    WINKHOLD_OUTLINED constexpr LetGo stuck_on() const {
        return static_cast<LetGo>((lines_[0].stuck_on() ? 1u : 0u) | (lines_[1].stuck_on() ? 2u : 0u));
    }
    /// After a rise: what it was in the line's rhythm.
    constexpr Beat beat() const { return beat_; }
    /// After a fall: a flash cut short is held no longer than this from its last high.
    constexpr Span longest_hold_us() const {
        return cut_ == Cut::no ? forever_us : cut_ == Cut::soon ? built_in::chatter_gap_us : Span{0};
    }
    /// What both lines together show, as a mask of Fault: the sides have risen as one three times in a row;
    /// or have taken turns, flash by flash, five times.
    WINKHOLD_OUTLINED constexpr uint8_t notices() const {
        return static_cast<uint8_t>((as_one_ >= 3 ? as_one : 0) | (turns_ >= 4 ? alternating : 0));
    }

private:
    enum class Window : uint8_t { none, rise, fall };

    /// Closer than two contacts of one relay; both sides on one wire are.
    static constexpr Span as_one_us = 300;
    static constexpr uint8_t both_sides = 3;

    constexpr LetGo let_go(LetGo sides) {
        gone_ |= sides;
        return sides;
    }

    static constexpr LetGo mask(Side side) { return static_cast<LetGo>(static_cast<uint8_t>(side) + 1u); }
    static constexpr LetGo other_mask(Side side) {
        return static_cast<LetGo>(2u - static_cast<uint8_t>(side));
    }
    WINKHOLD_OUTLINED constexpr Cadence& at(Side side) { return lines_[static_cast<uint8_t>(side)]; }
    WINKHOLD_OUTLINED static constexpr bool lit(const Cadence& line, const Context& c) {
        return line.lit_within(built_in::longest_gap_us, c);
    }

    constexpr void open(Window window, Side subject, Moment from, Span for_us) {
        window_ = window;
        subject_ = subject;
        window_ends_ = after(from, for_us);
    }
    WINKHOLD_OUTLINED constexpr Timer window() const { return Timer{window_ != Window::none, window_ends_}; }

    Moment window_ends_{};
    Timer supply_gone_;
    LetGo last_risen_{0}; ///< the side that rose last, or both of a hazard
    LetGo hidden_{0};
    LetGo gone_{both_sides}; ///< let go, or never risen
    uint8_t as_one_{0};
    uint8_t turns_{0};
    Beat beat_{Beat::plain}; ///< of the last rise
    Cut cut_{Cut::no};       ///< at the last fall
    Side subject_{Side::left};
    Window window_{Window::none};
    UsualPeriod usual_;
    Cadence lines_[2];
};

} // namespace core
} // namespace winkhold
