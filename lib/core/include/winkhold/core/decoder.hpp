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
    /// Valid after a settled fall: the last moment the line read high.
    constexpr Micros last_high() const { return settle_.last_high(); }
    constexpr const Cadence& cadence() const { return cadence_; }
    /// Mask of Fault.
    constexpr uint8_t faults() const { return watch_.faults(); }

private:
    friend class Decoder;

    Settle settle_;
    Cadence cadence_;
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
        stirred |= settle(Side::left, now, (changed & Lines::left) != 0, due);
        stirred |= settle(Side::right, now, (changed & Lines::right) != 0, due);
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
        indication_ = static_cast<Indication>((turn_[0].held() ? 1u : 0u) | (turn_[1].held() ? 2u : 0u));
    }

    /// Returns true if the side's settled level has changed.
    constexpr bool settle(Side side, Micros now, bool changed, bool due) {
        TurnLine& line = turn(side);
        const SettledEdge old = due ? line.settle_.expire(now, settings_) : SettledEdge::none;
        edge(side, now, old);
        if (!changed) return old != SettledEdge::none;
        const SettledEdge settled = line.settle_.apply(now, lines_.has(side), settings_);
        if (settled == SettledEdge::none) line.watch_.raw_change(now, line.settle_, settings_);
        edge(side, now, settled);
        return old != SettledEdge::none || settled != SettledEdge::none;
    }

    constexpr void edge(Side side, Micros now, SettledEdge settled) {
        if (settled == SettledEdge::none) return;
        TurnLine& line = turn(side);
        if (settled == SettledEdge::rise) {
            const TurnLine& rival = turn(other(side));
            const bool rival_rose = rival.cadence_.rose_within(settings_.handover_us, now);
            line.watch_.rise(line.cadence_.rise(now));
            line.hold_.rise();
            handover_.rise(side, now, rival.held(), rival_rose, settings_);
        } else {
            line.watch_.fall();
            const bool cut = line.cadence_.fall(line.last_high(), settings_);
            line.hold_.fall(line.last_high(), hold_for_us(settings_, line.cadence_));
            if (cut && settings_.cut_short) line.hold_.release();
        }
    }

    /// What time alone ends: the handover window, holds, rhythms.
    constexpr void silence(Micros now) {
        if (handover_.expire(now)) {
            TurnLine& old = turn(other(handover_.newcomer()));
            if (!old.on() || old.cadence_.stuck_on()) old.hold_.release();
        }
        for (TurnLine& line : turn_) {
            line.hold_.expire(now);
            line.cadence_.expire(now);
            if (line.cadence_.stuck_on()) line.watch_.stuck();
            line.watch_.expire(now);
        }
        refresh(now);
    }

    /// The earliest deadline of what changes with settled edges only.
    constexpr void refresh(Micros now) {
        uint32_t wait_us = least_us(handover_.alarm().wait_us(now), plain_alarm_.wait_us(now));
        for (const TurnLine& line : turn_)
            wait_us = least_us(wait_us,
                               least_us(line.hold_.alarm().wait_us(now), line.cadence_.alarm().wait_us(now)));
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
    Handover handover_;
    Alarm wake_;
    Alarm calm_; ///< the earliest of all but settling, kept because raw changes don't move it
    Alarm plain_alarm_;
    Lines lines_{};
    Indication indication_{Indication::off};
    bool stirred_{false};
};

} // namespace core
} // namespace winkhold
