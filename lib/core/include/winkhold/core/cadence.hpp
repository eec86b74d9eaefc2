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
    constexpr void clear() { *this = RecentDurations(); }
    constexpr uint8_t count() const { return count_; }

    constexpr uint16_t last() const { return units_[(next_ + capacity - 1u) & (capacity - 1u)]; }
    /// Of those known; at least one must be.
    constexpr uint16_t most() const {
        return larger(larger(units_[0], units_[1]), larger(units_[2], units_[3]));
    }
    constexpr uint16_t least() const {
        return static_cast<uint16_t>(
            ~larger(larger(backwards(0), backwards(1)), larger(backwards(2), backwards(3))));
    }

private:
    static constexpr uint16_t larger(uint16_t a, uint16_t b) { return a > b ? a : b; }
    /// So that an unknown 0 is no least.
    constexpr uint16_t backwards(uint8_t i) const {
        return static_cast<uint16_t>(units_[i] == 0 ? 0 : ~units_[i]);
    }

    uint16_t units_[capacity]{};
    uint8_t count_{0};
    uint8_t next_{0};
};

/// How sure it is that a flash was cut short, by a cancel or a side change.
enum class Cut : uint8_t {
    no,
    soon, ///< unless the line is back within limits::chatter_gap_us: a very short flash, or a line known to
          ///< chatter
    now,
};

/// Call rise() and fall() on settled edges, and expire() when alarm() is due.
class Cadence {
public:
    /// The line went on at `now`. Returns the time since the rise before, or 0 if that was not in rhythm.
    constexpr uint32_t rise(Micros now, const Settings& s) {
        const uint32_t gap_us = elapsed_us(now, last_high_);
        on_ = true;
        resumed_ = would_resume(now);
        if (resumed_) { // no gap at all: the flash goes on
            chatter_left_ = chatter_memory;
            cut_ = false;
            pending_ = false;
            return 0;
        }
        const bool in_rhythm = timing_;
        learn_flash(s);
        uint32_t period_us = 0;
        first_ = !in_rhythm;
        if (in_rhythm) {
            // out of a gap longer than the rhythm's, the flash may be joined midway
            first_ = knows_gap() && gap_us > RecentDurations::to_us(gaps_.most()) &&
                     gap_us > expected_gap_us(s) + s.cut_margin_us;
            learn(gaps_, RecentDurations::units_up(gap_us));
            if (resumable_) period_us = elapsed_us(now, rose_);
            if (cut_) { // it was no cancel after all
                doubtful_ = true;
                alike_ = 0;
            }
        }
        cut_ = false;
        timing_ = true;
        rose_ = now;
        return period_us;
    }

    /// The line went off; it read high until `last_high`. After a false alarm it takes two like flashes to
    /// cry again. Pass `teaches` false if something else than the flasher took the line down.
    constexpr Cut fall(Micros last_high, bool teaches, const Settings& s) {
        resumable_ = timing_;
        pending_ = timing_ && teaches;
        on_ = false;
        timing_ = true;
        last_high_ = last_high;
        if (!pending_) return Cut::no;
        const uint32_t on_us = elapsed_us(last_high, rose_);
        pending_on_ = RecentDurations::units_down(on_us);
        if (pending_on_ == 0) pending_on_ = 1; // a known duration is never 0
        short_ = is_short(on_us, s);
        if (!short_ || first_ || doubtful_) return Cut::no;
        cut_ = true;
        return on_us < limits::chatter_gap_us || chatter_left_ != 0 ? Cut::soon : Cut::now;
    }

    /// The phase has outlasted every rhythm: stop timing it, so that nothing aliases after a wrap.
    constexpr void expire(Micros now, const Settings& s) {
        if (!alarm().due(now)) return;
        timing_ = false;
        if (!on_) learn_flash(s);
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
        return timing_ && (on_ || resumable_) && elapsed_us(now, rose_) <= window_us;
    }
    constexpr bool on() const { return on_; }
    /// A rise at `now` would only carry the last flash on: the line chatters.
    constexpr bool would_resume(Micros now) const {
        return timing_ && resumable_ && elapsed_us(now, last_high_) < limits::chatter_gap_us;
    }
    /// The last rise only carried a flash on that had chattered.
    constexpr bool resumed() const { return resumed_; }
    /// The present phase may still be part of a rhythm: on for at most 3 s, or dark for at most 1 s.
    constexpr bool timing() const { return timing_; }
    /// On for longer than any flash.
    constexpr bool stuck_on() const { return on_ && !timing_; }

private:
    static constexpr uint8_t chatter_memory = 8;

    /// The dark gap has shown that the flash was over: learn from it.
    constexpr void learn_flash(const Settings& s) {
        if (!pending_) return;
        pending_ = false;
        if (chatter_left_ != 0) --chatter_left_;
        const uint32_t on_us = RecentDurations::to_us(pending_on_);
        // the very first flash may have been joined midway
        if (first_only_ && on_us > RecentDurations::to_us(on_times_.least()) + s.cut_margin_us)
            on_times_.clear();
        first_only_ = first_ && on_times_.count() == 0;
        if (!short_) {
            learn(on_times_, pending_on_);
            short_on_ = 0;
            if (doubtful_ && ++alike_ == 2) doubtful_ = false;
            return;
        }
        if (first_) return;
        const uint32_t before_us = RecentDurations::to_us(short_on_);
        const bool alike =
            short_on_ != 0 && on_us <= before_us + s.cut_margin_us && before_us <= on_us + s.cut_margin_us;
        if (alike) { // two like short flashes are a new rhythm (a lamp out doubles the rate)
            on_times_.clear();
            on_times_.add(short_on_);
            on_times_.add(pending_on_);
            doubtful_ = false;
        }
        short_on_ = alike ? uint16_t{0} : pending_on_;
    }

    constexpr bool is_short(uint32_t on_us, const Settings& s) const {
        if (on_times_.count() < 2) return false;
        const uint16_t least = on_times_.least();
        const uint32_t least_us = RecentDurations::to_us(least);
        return on_us + s.cut_margin_us < least_us &&
               on_us + s.cut_margin_us + spread_us(on_times_, least, s) < least_us;
    }

    /// Also keeps the largest step from one duration to the next, as a share: jitter goes with the duration,
    /// so on times and gaps tell of each other. A step of over a quarter is a change of rhythm and no jitter.
    /// Old steps fade slowly, by 1/64 a time: jitter is the bike's.
    constexpr void learn(RecentDurations& durations, uint16_t units) {
        if (durations.count() != 0) {
            const uint16_t last = durations.last();
            const uint16_t step = static_cast<uint16_t>(units > last ? units - last : last - units);
            if (step <= last >> 2) {
                jitter_ = static_cast<uint16_t>(jitter_ - (jitter_ >> 6));
                if (static_cast<uint32_t>(step) << 13 > static_cast<uint32_t>(jitter_) * last)
                    grow(step, last);
            }
        }
        durations.add(units);
    }

    /// Long division, since the core has no other: step / last in 1/256, at most 64 of them.
    constexpr void grow(uint16_t step, uint16_t last) {
        uint32_t rest = static_cast<uint32_t>(step) << 8;
        uint16_t share = 0;
        for (uint8_t bit = 7; bit-- > 0;) {
            const uint32_t part = static_cast<uint32_t>(last) << bit;
            if (rest < part) continue;
            rest -= part;
            share = static_cast<uint16_t>(share | (1u << bit));
        }
        if (share << 5 > jitter_) jitter_ = static_cast<uint16_t>(share << 5);
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
    uint16_t jitter_{0};      ///< largest step, in 1/8192 of the duration
    uint16_t pending_on_{0};  ///< the last on phase, until the gap shows that it was over
    uint16_t short_on_{0};    ///< the last on phase, if it was short; else 0
    uint8_t chatter_left_{0}; ///< flashes until a chatter is forgotten
    uint8_t alike_{0};        ///< like flashes since a false alarm
    bool on_{false};
    bool timing_{false};     ///< the present phase may still be part of a rhythm
    bool first_{false};      ///< the present flash may have been joined midway
    bool first_only_{false}; ///< such a flash is all that has been learned of on times
    bool pending_{false};
    bool short_{false}; ///< the last on phase was short by what is known
    bool resumed_{false};
    bool resumable_{false}; ///< the last on phase was a flash, not a stuck line
    bool cut_{false};
    bool doubtful_{false}; ///< a cut turned out false
};

} // namespace core
} // namespace winkhold
