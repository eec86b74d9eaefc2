/// The stages composed: raw taps in, steady indication out.
#pragma once

#include "winkhold/core/hold.hpp"
#include "winkhold/core/intent.hpp"
#include "winkhold/core/watch.hpp"

namespace winkhold {
namespace core {

/// One turn-signal tap with its own stages.
class TurnLine {
public:
    /// The settled level: lit, without bounce, short pulses and PWM gaps.
    constexpr bool on() const { return settle_.on(); }
    /// The side is shown: a light burns, or its hold has not ended.
    constexpr bool held() const { return hold_.held(); }

private:
    friend class Decoder;

    Settle settle_;
    Hold hold_;
    ChatterWatch watch_;
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
    /// All lines dark and nothing learned; `settings` must pass check().
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

    /// The answer of the last step(); off before the first one.
    constexpr Indication indication() const { return indication_; }
    /// False if the last step left the indication and every turn line's on() and held() as they were.
    constexpr bool stirred() const { return stirred_; }
    /// One side's line as the last step() left it.
    constexpr const TurnLine& line(Side side) const { return turn_[static_cast<uint8_t>(side)]; }
    /// Mask of Fault.
    constexpr uint8_t faults(Side side) const {
        return static_cast<uint8_t>(intent_.notices(side) | (line(side).watch_.chatters() ? chatter : 0));
    }
    /// What is asked for, and the rhythm it has learned; for those who show it.
    constexpr const Intent& intent() const { return intent_; }
    /// Those in force.
    constexpr const Settings& settings() const { return context_; }
    /// Goes on with other settings, which must pass check(). What is learned and shown stays; times that run
    /// already run out as they were set.
    constexpr void retune(const Settings& settings) { static_cast<Settings&>(context_) = settings; }

private:
    /// One moment: what the old levels lead to, then the new levels, then what silence ends.
    WINKHOLD_OUTLINED constexpr void at(Micros now, Lines lines, bool due) {
        const uint8_t changed = static_cast<uint8_t>(lines.bits() ^ lines_.bits());
        lines_ = lines;
        context_.now = moment(now);
        Happening what;
        what.supply_moved = (changed & Lines::supply) != 0;
        what.supply_up = lines.has(Lines::supply);
        if (due) {
            expire_tap(Side::left, what);
            expire_tap(Side::right, what);
        }
        if ((changed & Lines::left) != 0) change_tap(Side::left, what);
        if ((changed & Lines::right) != 0) change_tap(Side::right, what);
        const bool calm =
            !what.rose.any() && !what.fell.any() && !what.supply_moved && !core::due(calm_, context_.now);
        if (!calm) answer(what);
        Soonest soonest(context_.now);
        if (calm) {
            soonest.add(calm_);
        } else {
            intent_.wait(soonest);
            soonest.add(turn_[0].hold_.timer());
            soonest.add(turn_[1].hold_.timer());
            calm_ = soonest.timer();
        }
        soonest.add(turn_[0].settle_.timer());
        soonest.add(turn_[1].settle_.timer());
        // the watch only needs to be looked after when all else rests: otherwise somebody looks again soon
        if (soonest.wait_us() == forever_us) {
            soonest.add(turn_[0].watch_.timer());
            soonest.add(turn_[1].watch_.timer());
        }
        wake_ = alarm_in(now, soonest.wait_us());
    }

    WINKHOLD_OUTLINED constexpr void expire_tap(Side side, Happening& what) {
        turn(side).watch_.expire(context_);
        take(side, turn(side).settle_.expire(context_), what);
    }

    WINKHOLD_OUTLINED constexpr void change_tap(Side side, Happening& what) {
        TurnLine& line = turn(side);
        const SettledEdge edge = line.settle_.change(context_);
        if (edge == SettledEdge::none)
            line.watch_.raw_change(line.settle_, context_);
        else
            take(side, edge, what);
    }

    WINKHOLD_OUTLINED constexpr void take(Side side, SettledEdge edge, Happening& what) {
        if (edge == SettledEdge::none) return;
        TurnLine& line = turn(side);
        line.watch_.settled();
        if (edge == SettledEdge::rise) {
            what.rose.add(side);
        } else {
            what.fell.add(side);
            what.last_high = line.settle_.last_high();
        }
    }

    WINKHOLD_RARE constexpr void answer(const Happening& what) {
        intent_.judge(what, context_);
        Sides shown;
        for (const Side side : both_sides) {
            hold(side, what);
            if (turn(side).held()) shown.add(side);
        }
        indication_ = static_cast<Indication>(shown.bits());
        stirred_ = true;
    }

    /// A side is held while it burns, and through the silence after that; unless nobody asks for it any more.
    constexpr void hold(Side side, const Happening& what) {
        Hold& hold = turn(side).hold_;
        if (!intent_.asked(side))
            hold.release();
        else if (intent_.burning(side))
            hold.rise();
        else if (hold.burning())
            hold.fall(what.last_high, hold_for_us(intent_.rhythm(), intent_.on_beat(side), context_));
        hold.expire(context_);
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
