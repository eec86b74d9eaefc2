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
    /// Mask of Fault.
    constexpr uint8_t faults() const { return watch_.faults(); }

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
    constexpr explicit Decoder(const Settings& settings) : settings_(settings) {}

    /// The indication from `now` on, given the levels from `now` on. `now` must not be before the last step.
    constexpr Indication step(Micros now, Lines lines) {
        stirred_ = false;
        while (wake_.due(now) && wake_.at.count_us != now.count_us)
            at(wake_.at, lines_);
        if (lines != lines_ || wake_.due(now)) at(now, lines);
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
    /// Settled brake, tail and supply taps.
    constexpr bool brake() const { return plain_[0].on(); }
    constexpr bool tail() const { return plain_[1].on(); }
    constexpr bool supply() const { return plain_[2].on(); }
    constexpr const Settings& settings() const { return settings_; }

private:
    /// One moment: what the old levels lead to, then the new levels, then what silence ends.
    constexpr void at(Micros now, Lines lines) {
        const uint8_t changed = static_cast<uint8_t>(lines.bits() ^ lines_.bits());
        const bool due = wake_.due(now);
        lines_ = lines;
        bool stirred = due;
        if ((changed & Lines::supply) != 0) {
            intent_.supply(now, lines.has(Lines::supply), settings_);
            stirred = true;
        }
        const Edges left = settle(turn_[0], now, (changed & Lines::left) != 0, lines.has(Lines::left), due);
        const Edges right =
            settle(turn_[1], now, (changed & Lines::right) != 0, lines.has(Lines::right), due);
        if ((left | right) != 0) {
            if ((left & fell) != 0) fall(Side::left, now);
            if ((right & fell) != 0) fall(Side::right, now);
            const bool right_first = intent_.cadence(Side::right).would_resume(now);
            if (right_first && (right & rose) != 0) rise(Side::right, now);
            if ((left & rose) != 0) rise(Side::left, now);
            if (!right_first && (right & rose) != 0) rise(Side::right, now);
            stirred = true;
        }
        if (stirred) answer(now);
        if (changed >= Lines::brake || (due && plain_alarm_.due(now))) plain(now);
        const uint32_t settling_us = least_us(turn_[0].settle_.alarm(settings_).wait_us(now),
                                              turn_[1].settle_.alarm(settings_).wait_us(now));
        wake_ = alarm_in(now, least_us(settling_us, calm_.wait_us(now)));
        if (!wake_.armed) watch_at_rest(now);
    }

    constexpr void answer(Micros now) {
        refresh(now);
        if (!calm_.armed || calm_.due(now)) silence(now);
        stirred_ = true;
        indication_ = static_cast<Indication>((shown(Side::left) ? 1u : 0u) | (shown(Side::right) ? 2u : 0u));
    }

    constexpr bool shown(Side side) const { return line(side).held() && !intent_.hidden(side); }

    /// What one moment makes of a line, as a mask. A fall that settles just as the line goes high again,
    /// chopped and without settle, can be followed by a rise.
    using Edges = uint8_t;
    static constexpr Edges fell = 1;
    static constexpr Edges rose = 2;

    static constexpr Edges edges(SettledEdge edge) {
        return edge == SettledEdge::none ? Edges{0} : edge == SettledEdge::fall ? fell : rose;
    }

    constexpr Edges settle(TurnLine& line, Micros now, bool changed, bool high, bool due) {
        const Edges old = due ? edges(line.settle_.expire(now, settings_)) : Edges{0};
        if (!changed) return old;
        const Edges settled = edges(line.settle_.apply(now, high, settings_));
        if (settled == 0) line.watch_.raw_change(now, line.settle_, settings_);
        return static_cast<Edges>(old | settled);
    }

    constexpr void rise(Side side, Micros now) {
        const Intent::LetGo ends = intent_.rise(side, now, settings_);
        turn(side).hold_.rise();
        turn(side).watch_.rise(intent_.period_us(side));
        let_go(ends);
        const uint8_t notices = intent_.notices();
        if (notices == notices_) return;
        notices_ = notices;
        for (TurnLine& either : turn_)
            either.watch_.notice(notices);
    }

    constexpr void fall(Side side, Micros now) {
        TurnLine& line = turn(side);
        const Micros last_high = line.settle_.last_high();
        const Intent::LetGo ends = intent_.fall(side, now, last_high, settings_);
        line.hold_.fall(last_high, least_us(hold_for_us(settings_, intent_.cadence(side)),
                                            intent_.longest_hold_us(side, settings_)));
        line.watch_.fall();
        let_go(ends);
    }

    constexpr void let_go(Intent::LetGo sides) {
        if ((sides & 1u) != 0) turn_[0].hold_.release();
        if ((sides & 2u) != 0) turn_[1].hold_.release();
    }

    /// What time alone ends: windows, holds, rhythms.
    constexpr void silence(Micros now) {
        let_go(intent_.expire(now, settings_));
        for (uint8_t i = 0; i < 2; ++i) {
            const Side side = static_cast<Side>(i);
            turn(side).hold_.expire(now);
            if (intent_.cadence(side).stuck_on()) turn(side).watch_.stuck();
            turn(side).watch_.expire(now);
        }
        refresh(now);
    }

    /// The earliest deadline of what changes with settled edges only.
    constexpr void refresh(Micros now) {
        const uint32_t holding_us =
            least_us(turn_[0].hold_.alarm().wait_us(now), turn_[1].hold_.alarm().wait_us(now));
        const uint32_t wait_us =
            least_us(least_us(intent_.wait_us(now), plain_alarm_.wait_us(now)), holding_us);
        calm_ = alarm_in(now, wait_us);
    }

    /// The watch only needs to be looked after when all else rests: otherwise somebody looks again soon
    /// enough.
    constexpr void watch_at_rest(Micros now) {
        wake_ = alarm_in(
            now, least_us(turn_[0].watch_.alarm().wait_us(now), turn_[1].watch_.alarm().wait_us(now)));
    }

    /// Brake, tail and supply: settled, nothing more. A stop lamp must not wait for a hold.
    constexpr void plain(Micros now) {
        uint32_t wait_us = forever_us;
        for (uint8_t i = 0; i < 3; ++i) {
            plain_[i].expire(now, settings_);
            plain_[i].apply(now, (lines_.bits() & (Lines::brake << i)) != 0, settings_);
            wait_us = least_us(wait_us, plain_[i].alarm(settings_).wait_us(now));
        }
        plain_alarm_ = alarm_in(now, wait_us);
        refresh(now);
    }

    constexpr TurnLine& turn(Side side) { return turn_[static_cast<uint8_t>(side)]; }
    constexpr const TurnLine& turn(Side side) const { return turn_[static_cast<uint8_t>(side)]; }

    Settings settings_;
    TurnLine turn_[2];
    Settle plain_[3]; ///< brake, tail, supply
    Intent intent_;
    Alarm wake_;
    Alarm calm_; ///< the earliest of all but settling, kept because raw changes don't move it
    Alarm plain_alarm_;
    Lines lines_{};
    Indication indication_{Indication::off};
    uint8_t notices_{0};
    bool stirred_{false};
};

} // namespace core
} // namespace winkhold
