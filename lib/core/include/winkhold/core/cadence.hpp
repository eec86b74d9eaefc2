/// One line: what its flashes have taught. Learns from settled edges alone, never from what hold or intent
/// decided, so a wrong decision can't spoil it and one pass over a trace serves every hold time.
#pragma once

#include "winkhold/core/settings.hpp"

namespace winkhold {
namespace core {

/// The last four durations, in units of 64 us (4.19 s in 16 bits) to stay small.
class RecentDurations {
public:
    static constexpr uint8_t capacity = 4;

    static constexpr uint16_t units_down(uint32_t us) { return static_cast<uint16_t>(us >> 6); }
    static constexpr uint16_t units_up(uint32_t us) { return static_cast<uint16_t>((us + 63u) >> 6); }
    static constexpr uint32_t to_us(uint16_t units) { return static_cast<uint32_t>(units) << 6; }

    constexpr void add(uint16_t units) {
        units_[next_] = units;
        next_ = static_cast<uint8_t>((next_ + 1u) & (capacity - 1u));
        if (count_ < capacity) ++count_;
    }
    constexpr void clear() { count_ = next_ = 0; }
    constexpr uint8_t count() const { return count_; }

    constexpr uint16_t last() const { return units_[(next_ + capacity - 1u) & (capacity - 1u)]; }
    constexpr uint16_t least() const {
        uint16_t least = 0xffff;
        for (uint8_t i = 0; i < count_; ++i)
            least = units_[i] < least ? units_[i] : least;
        return least;
    }
    constexpr uint16_t most() const {
        uint16_t most = 0;
        for (uint8_t i = 0; i < count_; ++i)
            most = units_[i] > most ? units_[i] : most;
        return most;
    }

private:
    uint16_t units_[capacity]{};
    uint8_t count_{0};
    uint8_t next_{0};
};

/// Call rise() and fall() on settled edges, and expire() when alarm() is due.
class Cadence {
public:
    /// The line went on at `now`. Returns the time since the rise before, or 0 if that was not in rhythm.
    constexpr uint32_t rise(Micros now) {
        uint32_t period_us = 0;
        if (timing_) { // the dark gap was short enough to be part of a rhythm
            learn(gaps_, RecentDurations::units_up(elapsed_us(now, last_high_)));
            period_us = elapsed_us(now, rose_);
            if (cut_) { // it was no cancel after all
                doubtful_ = true;
                alike_ = 0;
            }
        }
        first_ = !timing_;
        cut_ = false;
        on_ = timing_ = true;
        rose_ = now;
        return period_us;
    }

    /// The line went off; it read high until `last_high`. Returns true if the on phase was cut short, which
    /// only a cancel (or a side change) does. After a false alarm it takes two like flashes to speak again.
    /// Pass `teaches` false if something else than the flasher took the line down.
    constexpr bool fall(Micros last_high, bool teaches, const Settings& s) {
        const bool in_rhythm = timing_ && teaches;
        on_ = false;
        timing_ = true;
        last_high_ = last_high;
        if (!in_rhythm) return false;
        const uint32_t on_us = elapsed_us(last_high, rose_);
        const uint16_t on = RecentDurations::units_down(on_us);
        if (on_times_.count() == 1 && first_only_ &&
            on_us > RecentDurations::to_us(on_times_.least()) + s.cut_margin_us)
            on_times_.clear(); // the very first flash may have been joined midway: it teaches nothing
        first_only_ = first_ && on_times_.count() == 0;
        const uint32_t least_us = RecentDurations::to_us(on_times_.least());
        if (on_times_.count() < 2 ||
            on_us + s.cut_margin_us + spread_us(on_times_, on_times_.least(), s) >= least_us) {
            learn(on_times_, on);
            short_on_ = 0;
            if (doubtful_ && ++alike_ == 2) doubtful_ = false;
            return false;
        }
        const uint32_t before_us = RecentDurations::to_us(short_on_);
        const bool alike =
            short_on_ != 0 && on_us <= before_us + s.cut_margin_us && before_us <= on_us + s.cut_margin_us;
        cut_ = !doubtful_;
        if (alike) { // two like short flashes are a new rhythm (a lamp out doubles the rate)
            on_times_.clear();
            on_times_.add(short_on_);
            on_times_.add(on);
            doubtful_ = false;
        }
        short_on_ = alike ? 0 : on;
        return cut_;
    }

    /// The phase has outlasted every rhythm: stop timing it, so that nothing aliases after a wrap.
    constexpr void expire(Micros now) {
        if (alarm().due(now)) timing_ = false;
    }

    constexpr Alarm alarm() const {
        return on_ ? Alarm{timing_, after(rose_, limits::longest_on_us)}
                   : Alarm{timing_, after(last_high_, limits::longest_gap_us)};
    }

    constexpr bool knows_gap() const { return gaps_.count() != 0; }
    /// How long the next dark gap may become, last high to settled rise: the longest of the last four and
    /// what their spread adds. Unit: us, rounded up to 64 us. Valid if knows_gap().
    constexpr uint32_t expected_gap_us(const Settings& s) const {
        return RecentDurations::to_us(gaps_.most()) + spread_us(gaps_, gaps_.most(), s);
    }

    /// True if the line went on no longer than `window_us` (at most 1 s) ago.
    constexpr bool rose_within(uint32_t window_us, Micros now) const {
        return timing_ && elapsed_us(now, rose_) <= window_us;
    }
    constexpr bool on() const { return on_; }
    /// The present phase may still be part of a rhythm: on for at most 3 s, or dark for at most 1 s.
    constexpr bool timing() const { return timing_; }
    /// On for longer than any flash.
    constexpr bool stuck_on() const { return on_ && !timing_; }

private:
    /// Also keeps the largest step from one duration to the next, as a share: jitter goes with the duration,
    /// so on times and gaps tell of each other. A step of over a quarter is a change of rhythm and no jitter.
    /// Old steps fade slowly, by 1/64 a time: jitter is the bike's.
    constexpr void learn(RecentDurations& durations, uint16_t units) {
        if (durations.count() != 0) {
            const uint16_t last = durations.last();
            uint32_t step = static_cast<uint32_t>(units > last ? units - last : last - units) << 8;
            if (step <= static_cast<uint32_t>(last) << 6) {
                uint16_t share = 0; // at most 64 rounds; the core doesn't divide
                for (; step >= last && last != 0; step -= last)
                    ++share;
                jitter_ = static_cast<uint16_t>(jitter_ - (jitter_ >> 6));
                if ((share << 5) > jitter_) jitter_ = static_cast<uint16_t>(share << 5);
            }
        }
        durations.add(units);
    }

    /// Three times the largest step; and while fewer than four durations are known, a share of `units`,
    /// because steps of few say little: 1/2 after one, 1/4 after two, 1/8 after three (thermal flashers
    /// jitter 5-15 %, from memory).
    constexpr uint32_t spread_us(const RecentDurations& durations, uint16_t units, const Settings& s) const {
        if (!s.spread) return 0;
        const uint8_t n = durations.count();
        const uint16_t unsure =
            n < RecentDurations::capacity ? static_cast<uint16_t>(units >> n) : uint16_t{0};
        const uint32_t steps = (static_cast<uint32_t>(units) * (jitter_ >> 5) * 3u) >> 8;
        return (steps + unsure) << 6;
    }

    RecentDurations gaps_;
    RecentDurations on_times_;
    Micros rose_{};
    Micros last_high_{};
    uint16_t jitter_{0};   ///< largest step, in 1/8192 of the duration
    uint16_t short_on_{0}; ///< the last on phase, if it was short; else 0
    uint8_t alike_{0};     ///< like flashes since a false alarm
    bool on_{false};
    bool timing_{false};     ///< the present phase may still be part of a rhythm
    bool first_{false};      ///< the present flash came out of silence
    bool first_only_{false}; ///< such a flash is all that has been learned of on times
    bool cut_{false};
    bool doubtful_{false}; ///< a cut turned out false
};

} // namespace core
} // namespace winkhold
