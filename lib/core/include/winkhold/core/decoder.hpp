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
    Alarm alarm_; ///< the earliest of all stages, kept because it changes seldom
};

/// Decodes two intermittent, bouncing lines into one steady indication.
///
/// Call step() whenever a line changes, and at wake() if nothing does. Stepping more often, even every
/// microsecond, gives the same answers; a late step catches up deadline by deadline. Copying takes a snapshot.
/// `settings` must pass check(); the decoder doesn't look again.
///
///     Decoder decoder{Settings{}};
///     for (;;) show(decoder.step(Micros{clock_us()}, Lines{read_port()}));
class Decoder {
public:
    constexpr explicit Decoder(const Settings& settings) : settings_(settings) {}

    /// The indication from `now` on, given the levels from `now` on. `now` must not be before the last step.
    constexpr Indication step(Micros now, Lines lines) {
        if (lines == lines_ && !wake_.due(now)) return indication_;
        while (wake_.due(now) && wake_.at.count_us != now.count_us) at(wake_.at, lines_);
        at(now, lines);
        return indication_;
    }

    /// When to call step() again if no line changes before. Unset: only a change can alter the answer.
    constexpr Alarm wake() const { return wake_; }
    /// The moment of wake(); valid only while wake().armed.
    constexpr Micros wake_us() const { return wake_.at; }

    constexpr Indication indication() const { return indication_; }
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
        lines_ = lines;
        bool touched[2]{};
        for (uint8_t i = 0; i < 2; ++i)
            if ((changed & (1u << i)) != 0 || turn_[i].alarm_.due(now)) {
                touched[i] = true;
                settle(static_cast<Side>(i), now);
            }
        if (handover_.expire(now)) {
            TurnLine& old = turn(other(handover_.newcomer()));
            if (!old.on() || old.cadence_.stuck_on()) old.hold_.release();
            touched[static_cast<uint8_t>(other(handover_.newcomer()))] = true;
        }
        for (uint8_t i = 0; i < 2; ++i)
            if (touched[i]) silence(turn_[i], now);
        if ((lines.bits() | changed | plain_busy_) >> 2 != 0) plain(now);
        indication_ = static_cast<Indication>((turn_[0].held() ? 1u : 0u) | (turn_[1].held() ? 2u : 0u));
        wake_ = sooner(sooner(turn_[0].alarm_, turn_[1].alarm_), sooner(handover_.alarm(), plain_alarm_));
    }

    constexpr void settle(Side side, Micros now) {
        TurnLine& line = turn(side);
        const bool high = lines_.has(side);
        edge(side, now, line.settle_.expire(now, settings_));
        if (high == line.settle_.raw()) return;
        const SettledEdge settled = line.settle_.apply(now, high, settings_);
        if (settled == SettledEdge::none) line.watch_.raw_change(now, line.settle_, settings_);
        edge(side, now, settled);
    }

    constexpr void edge(Side side, Micros now, SettledEdge settled) {
        TurnLine& line = turn(side);
        if (settled == SettledEdge::rise) {
            const TurnLine& rival = turn(other(side));
            const bool rival_rose = rival.cadence_.rose_within(settings_.handover_us, now);
            line.watch_.rise(line.cadence_.rise(now));
            line.hold_.rise();
            handover_.rise(side, now, rival.held(), rival_rose, settings_);
        } else if (settled == SettledEdge::fall) {
            line.watch_.fall();
            const bool cut = line.cadence_.fall(line.last_high(), settings_);
            line.hold_.fall(line.last_high(), hold_for_us(settings_, line.cadence_));
            if (cut && settings_.cut_short) line.hold_.release();
        }
    }

    constexpr void silence(TurnLine& line, Micros now) {
        line.hold_.expire(now);
        line.cadence_.expire(now);
        if (line.cadence_.stuck_on()) line.watch_.stuck();
        line.watch_.expire(now);
        line.alarm_ = sooner(sooner(line.settle_.alarm(settings_), line.hold_.alarm()),
                             sooner(line.cadence_.alarm(), line.watch_.alarm()));
    }

    /// Brake, tail and supply: settled, nothing more. A stop lamp must not wait for a hold.
    constexpr void plain(Micros now) {
        plain_alarm_ = Alarm{};
        for (uint8_t i = 0; i < 3; ++i) {
            plain_[i].expire(now, settings_);
            plain_[i].apply(now, (lines_.bits() & (4u << i)) != 0, settings_);
            plain_alarm_ = sooner(plain_alarm_, plain_[i].alarm(settings_));
        }
        plain_busy_ = plain_alarm_.armed ? 0xff : 0;
    }

    constexpr TurnLine& turn(Side side) { return turn_[static_cast<uint8_t>(side)]; }
    constexpr const TurnLine& turn(Side side) const { return turn_[static_cast<uint8_t>(side)]; }

    Settings settings_;
    TurnLine turn_[2];
    Settle plain_[3]; ///< brake, tail, supply
    Handover handover_;
    Alarm wake_;
    Alarm plain_alarm_;
    Lines lines_{};
    uint8_t plain_busy_{0};
    Indication indication_{Indication::off};
};

} // namespace core
} // namespace winkhold
