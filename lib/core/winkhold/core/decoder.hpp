/// The stages composed: raw taps in, steady indication out.
#pragma once

#include "winkhold/core/hold.hpp"
#include "winkhold/core/intent.hpp"
#include "winkhold/core/watch.hpp"

namespace winkhold {
namespace core {

/// One turn-signal tap with its stages.
class TurnLine {
public:
    constexpr bool on() const { return settle_.on(); }
    constexpr bool held() const { return hold_.held(); }

private:
    friend class Decoder;

    Settle settle_;
    Hold hold_;
    Watch watch_;
};

/// Decodes two intermittent, bouncing lines into one steady indication.
///
/// Call step() whenever a line changes, and at wake() if nothing does. Stepping more often, even every
/// microsecond, gives the same answers; a late step catches up deadline by deadline. Copying takes a
/// snapshot. `settings` must pass check(); the decoder doesn't look again.
///
///     Decoder decoder{Settings{}};
///     for (;;) show(decoder.step(Micros{clock_us()}, Lines{read_port()}));
class Decoder {
public:
    constexpr explicit Decoder(const Settings& settings) : context_(settings) {}

    /// The indication from `now` on, given the levels from `now` on. `now` must not be before the last step.
    constexpr Indication step(Micros now, Lines lines) {
        stirred_ = false;
        bool due = wake_.due(now);
        while (due && wake_.at.count_us != now.count_us) {
            at(wake_.at, lines_, true);
            due = wake_.due(now);
        }
        if (due || lines != lines_) at(now, lines, due);
        return indication_;
    }

    /// When to call step() again if no line changes before. Unset: only a change can alter the answer.
    constexpr Alarm wake() const { return wake_; }
    /// The moment of wake(); valid only while wake().armed.
    constexpr Micros wake_us() const { return wake_.at; }

    constexpr Indication indication() const { return indication_; }
    /// False if the last step left the indication and every turn line's on() and held() as they were.
    constexpr bool stirred() const { return stirred_; }
    constexpr const TurnLine& line(Side side) const { return turn_[static_cast<uint8_t>(side)]; }
    /// Mask of Fault.
    constexpr uint8_t faults(Side side) const {
        return static_cast<uint8_t>(line(side).watch_.faults() | intent_.notices());
    }
    constexpr const Settings& settings() const { return context_; }

private:
    /// Sides as a mask, left 1 and right 2.
    using Sides = Intent::LetGo;

    /// One moment: what the old levels lead to, then the new levels, then what silence ends. Falls count
    /// before rises; of two rises one that only carries a flash on comes first.
    WINKHOLD_OUTLINED constexpr void at(Micros now, Lines lines, bool due) {
        const uint8_t changed = static_cast<uint8_t>(lines.bits() ^ lines_.bits());
        lines_ = lines;
        context_.now = moment(now);
        if ((changed & Lines::supply) != 0) intent_.supply(lines.has(Lines::supply), context_);
        uint8_t settled = static_cast<uint8_t>(changed & Lines::supply);
        if (due) settled |= expire_taps();
        if ((changed & Lines::left) != 0) settled |= change(Side::left);
        if ((changed & Lines::right) != 0) settled |= change(Side::right);
        if ((settled & both_rise) != 0) rises(settled);
        if (settled != 0 || due) answer();
        Soonest soonest(context_.now);
        soonest.add(calm_);
        soonest.add(turn_[0].settle_.timer());
        soonest.add(turn_[1].settle_.timer());
        // the watch only needs to be looked after when all else rests: otherwise somebody looks again soon
        if (soonest.wait_us() == forever_us) {
            soonest.add(turn_[0].watch_.timer());
            soonest.add(turn_[1].watch_.timer());
        }
        wake_ = alarm_in(now, soonest.wait_us());
    }

    /// What settles, as a mask: the sides that rise, or `fell`.
    WINKHOLD_RARE constexpr uint8_t expire_taps() {
        uint8_t settled = 0;
        for (uint8_t i = 0; i < 2; ++i) {
            turn_[i].watch_.expire(context_);
            settled |= take(static_cast<Side>(i), turn_[i].settle_.expire(context_));
        }
        return settled;
    }

    WINKHOLD_OUTLINED constexpr uint8_t change(Side side) {
        TurnLine& line = turn(side);
        const SettledEdge edge = line.settle_.change(context_);
        if (edge == SettledEdge::none) {
            line.watch_.raw_change(line.settle_, context_);
            return 0;
        }
        return take(side, edge);
    }

    static constexpr uint8_t both_rise = 3;
    static constexpr uint8_t fell = 4;

    constexpr uint8_t take(Side side, SettledEdge edge) {
        if (edge == SettledEdge::none) return 0;
        if (edge == SettledEdge::rise) return static_cast<uint8_t>(static_cast<uint8_t>(side) + 1u);
        fall(side);
        return fell;
    }

    WINKHOLD_RARE constexpr void rises(uint8_t settled) {
        const bool right_first =
            (settled & both_rise) == both_rise && intent_.cadence(Side::right).would_resume(context_);
        if (right_first) rise(Side::right);
        if ((settled & 1u) != 0) rise(Side::left);
        if ((settled & 2u) != 0 && !right_first) rise(Side::right);
    }

    WINKHOLD_RARE constexpr void rise(Side side) {
        TurnLine& line = turn(side);
        const Sides ends = intent_.rise(side, context_);
        line.hold_.rise();
        line.watch_.rise(intent_.beat());
        let_go(ends);
    }

    WINKHOLD_RARE constexpr void fall(Side side) {
        TurnLine& line = turn(side);
        const Moment last_high = line.settle_.last_high();
        const Sides ends = intent_.fall(side, last_high, context_);
        line.hold_.fall(last_high,
                        least_us(hold_for_us(intent_.cadence(side), context_), intent_.longest_hold_us()));
        line.watch_.fall();
        let_go(ends);
    }

    constexpr void let_go(Sides sides) {
        if ((sides & 1u) != 0) turn_[0].hold_.release();
        if ((sides & 2u) != 0) turn_[1].hold_.release();
    }

    WINKHOLD_RARE constexpr void answer() {
        refresh();
        if (due(calm_, context_.now)) {
            silence();
            refresh();
        }
        Sides shown = 0;
        if (turn_[0].held()) shown |= 1u;
        if (turn_[1].held()) shown |= 2u;
        indication_ = static_cast<Indication>(shown & ~intent_.hidden());
        stirred_ = true;
    }

    /// What time alone ends: windows, holds, rhythms.
    WINKHOLD_RARE constexpr void silence() {
        let_go(intent_.expire(context_));
        const Sides stuck = intent_.stuck_on();
        for (uint8_t i = 0; i < 2; ++i) {
            turn_[i].hold_.expire(context_);
            if ((stuck >> i & 1u) != 0) turn_[i].watch_.stuck();
        }
    }

    /// The earliest deadline of what changes with settled edges only.
    WINKHOLD_OUTLINED constexpr void refresh() {
        Soonest soonest(context_.now);
        intent_.wait(soonest);
        soonest.add(turn_[0].hold_.timer());
        soonest.add(turn_[1].hold_.timer());
        calm_ = soonest.timer();
    }

    WINKHOLD_OUTLINED constexpr TurnLine& turn(Side side) { return turn_[static_cast<uint8_t>(side)]; }

    Lines lines_{};
    Indication indication_{Indication::off};
    bool stirred_{false};
    Alarm wake_;
    Timer calm_; ///< the earliest of all but settling and chatter, kept because raw changes don't move it
    TurnLine turn_[2];
    Intent intent_;
    Context context_;
};

} // namespace core
} // namespace winkhold
