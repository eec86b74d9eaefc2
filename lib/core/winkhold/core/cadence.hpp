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

    static constexpr uint16_t units_down(Span us) { return static_cast<uint16_t>(us >> 6); }
    static constexpr uint16_t units_up(Span us) { return units_down(static_cast<Span>(us + 63u)); }
    static constexpr Span to_us(uint16_t units) { return static_cast<Span>(static_cast<Span>(units) << 6); }

    /// `units` must not be 0, which stands for unknown.
    WINKHOLD_OUTLINED constexpr void add(uint16_t units) {
        for (uint8_t i = capacity - 1; i != 0; --i)
            units_[i] = units_[i - 1];
        units_[0] = units;
    }
    constexpr void clear() {
        for (uint16_t& units : units_)
            units = 0;
    }
    constexpr bool knows(uint8_t count) const { return units_[count - 1] != 0; }

    constexpr uint16_t last() const { return units_[0]; }
    /// Of those known; at least one must be.
    WINKHOLD_OUTLINED constexpr uint16_t most() const {
        uint16_t most = 0;
        for (const uint16_t units : units_)
            if (units > most) most = units;
        return most;
    }
    constexpr uint16_t least() const {
        uint16_t before_least = 0xffff; // one less, so that an unknown 0 is no least
        for (const uint16_t units : units_) {
            const uint16_t before = static_cast<uint16_t>(units - 1u);
            if (before < before_least) before_least = before;
        }
        return static_cast<uint16_t>(before_least + 1u);
    }

private:
    uint16_t units_[capacity]{}; ///< the last first
};

/// How sure it is that a flash was cut short, by a cancel or a side change.
enum class Cut : uint8_t {
    no,
    soon, ///< unless the line is back within built_in::chatter_gap_us: a very short flash, or a line known to
          ///< chatter
    now,
};

/// What a rise is in the line's rhythm.
enum class Beat : uint8_t {
    plain,
    fast,    ///< too soon after the rise before: possibly a lamp is out
    resumed, ///< it only carries the last flash on: the line chatters
};

/// How long the bike's flashes usually take, whichever side flashes.
class UsualPeriod {
public:
    /// Faster than any flasher should be, or than this one by 3/8, since a lamp out speeds flashers up by 1.5
    /// to 2.4 (from memory). A fast period never becomes the usual one; and of two the lesser does, because
    /// one flash may have been left out.
    constexpr bool is_fast(Span period_us) {
        const uint16_t period = static_cast<uint16_t>(period_us >> 8);
        const bool fast = period + (period >> 2) + (period >> 3) < usual_;
        if (!fast) usual_ = period < last_ ? period : last_;
        last_ = period;
        return fast || period_us < built_in::fast_period_us;
    }

private:
    uint16_t usual_{0}; ///< in 256 us; 0: not known
    uint16_t last_{0};  ///< in 256 us
};

/// Call rise() and fall() on settled edges, and expire() when timer() is due.
class Cadence {
public:
    constexpr Cadence()
        : chatter_left_(0), doubt_(0), excused_(0), on_(false), timing_(false), first_(false),
          first_only_(false), short_(false), resumable_(false), cut_(false) {}

    /// The line went on at `now`.
    constexpr Beat rise(UsualPeriod& usual, const Context& c) {
        const bool resumes = would_resume(c);
        on_ = true;
        if (resumes) { // no gap at all: the flash goes on
            chatter_left_ = chatter_memory;
            cut_ = false;
            pending_on_ = 0;
            return Beat::resumed;
        }
        learn_flash(c);
        first_ = !timing_;
        Beat beat = Beat::plain;
        if (timing_) {
            if (resumable_ && usual.is_fast(elapsed_us(c.now, rose_))) beat = Beat::fast;
            if (learns(c)) learn_gap(RecentDurations::units_up(elapsed_us(c.now, last_high_)), c);
            if (cut_) doubt_ = 2; // it was no cancel after all
        }
        cut_ = false;
        timing_ = true;
        rose_ = c.now;
        return beat;
    }

    /// The line went off; it read high until `last_high`. After a false alarm it takes two like flashes to
    /// cry again.
    WINKHOLD_OUTLINED constexpr Cut fall(Moment last_high, const Context& c) {
        const bool teaches = excused_ == 0;
        if (!teaches) --excused_;
        resumable_ = timing_;
        timing_ = true;
        on_ = false;
        last_high_ = last_high;
        pending_on_ = 0;
        if (!resumable_ || !teaches || !learns(c)) return Cut::no;
        const Span on_us = elapsed_us(last_high, rose_);
        pending_on_ = RecentDurations::units_down(on_us);
        if (pending_on_ == 0) pending_on_ = 1;
        short_ = is_short(c);
        if (!short_ || first_ || doubt_ != 0) return Cut::no;
        cut_ = true;
        return on_us < built_in::chatter_gap_us || chatter_left_ != 0 ? Cut::soon : Cut::now;
    }

    /// The supply dips: the flash that it splits teaches nothing in either part, nor does one that it lights
    /// late.
    constexpr void excuse() { excused_ = on_ ? 2 : 1; }

    /// The phase has outlasted every rhythm: stop timing it, so that nothing aliases after a wrap.
    constexpr void expire(const Context& c) {
        if (!due(timer(), c.now)) return;
        timing_ = false;
        if (!on_) learn_flash(c);
    }

    WINKHOLD_OUTLINED constexpr Timer timer() const {
        return Timer{timing_, on_ ? after(rose_, built_in::longest_on_us)
                                  : after(last_high_, built_in::longest_gap_us)};
    }

    constexpr bool knows_gap() const { return gaps_.knows(1); }
    /// How long the next dark gap may become, last high to settled rise: the longest of the last four and
    /// what their spread adds. Unit: us, rounded up to 64 us. Valid if knows_gap().
    constexpr Span expected_gap_us(const Context& c) const {
        const uint16_t most = gaps_.most();
        return RecentDurations::to_us(static_cast<uint16_t>(most + spread(gaps_, most, c)));
    }

    /// On, since no longer than `window_us` (at most 3 s).
    WINKHOLD_OUTLINED constexpr bool lit_within(Span window_us, const Context& c) const {
        return on_ && timing_ && elapsed_us(c.now, rose_) <= window_us;
    }
    constexpr bool on() const { return on_; }
    /// Dark, and a rise at `now` would only carry the last flash on: the line chatters.
    WINKHOLD_OUTLINED constexpr bool would_resume(const Context& c) const {
        return timing_ && resumable_ && elapsed_us(c.now, last_high_) < built_in::chatter_gap_us;
    }
    /// The present phase may still be part of a rhythm: on for at most 3 s, or dark for at most 1 s.
    constexpr bool timing() const { return timing_; }
    /// On for longer than any flash.
    constexpr bool stuck_on() const { return on_ && !timing_; }

private:
    static constexpr uint8_t chatter_memory = 8;

    static constexpr uint16_t margin(const Context& c) { return RecentDurations::units_up(c.cut_margin_us); }

    /// A plain hold without cut-short has no use for what it could learn.
    static constexpr bool learns(const Context& c) { return c.cut_short || c.rule == HoldRule::paced; }

    constexpr void learn_gap(uint16_t gap, const Context& c) {
        if (knows_gap()) { // out of a gap longer than the rhythm's, the flash may be joined midway
            const uint16_t most = gaps_.most();
            first_ = gap > most && exceeds(static_cast<uint16_t>(gap - most), gaps_, most, c);
        }
        learn(gaps_, gap);
    }

    /// The dark gap has shown that the flash was over: learn from it.
    WINKHOLD_OUTLINED constexpr void learn_flash(const Context& c) {
        const uint16_t on = pending_on_;
        if (on == 0) return;
        pending_on_ = 0;
        if (chatter_left_ != 0) --chatter_left_;
        // the very first flash may have been joined midway
        if (first_only_ && on > on_times_.last() && on - on_times_.last() > margin(c)) on_times_.clear();
        first_only_ = first_ && !on_times_.knows(1);
        if (!short_) {
            learn(on_times_, on);
            short_on_ = 0;
            if (doubt_ != 0) --doubt_;
            return;
        }
        if (first_) return;
        const uint16_t before = short_on_;
        short_on_ = on;
        if (before == 0 || (on > before ? on - before : before - on) > margin(c)) return;
        // two like short flashes are a new rhythm (a lamp out doubles the rate)
        on_times_.clear();
        on_times_.add(before);
        on_times_.add(on);
        short_on_ = 0;
        doubt_ = 0;
    }

    constexpr bool is_short(const Context& c) const {
        if (!on_times_.knows(2)) return false;
        const uint16_t least = on_times_.least();
        return pending_on_ < least &&
               exceeds(static_cast<uint16_t>(least - pending_on_), on_times_, least, c);
    }

    /// `step` away from a learned duration is more than margin and spread allow.
    WINKHOLD_OUTLINED constexpr bool exceeds(uint16_t step, const RecentDurations& durations, uint16_t units,
                                             const Context& c) const {
        return step > margin(c) && step - margin(c) > spread(durations, units, c);
    }

    /// Also keeps the largest step from one duration to the next, as a share: jitter goes with the duration,
    /// so on times and gaps tell of each other. A step of over a quarter is a change of rhythm and no jitter.
    /// Old steps fade slowly, by 1/64 a time: jitter is the bike's.
    WINKHOLD_OUTLINED constexpr void learn(RecentDurations& durations, uint16_t units) {
        const uint16_t last = durations.last();
        const uint16_t step = static_cast<uint16_t>(units > last ? units - last : last - units);
        durations.add(units);
        if (step > last >> 2) return;
        jitter_ = static_cast<uint16_t>(jitter_ - (jitter_ >> 6));
        // the core has no division, and steps seldom grow
        while (static_cast<Span>(static_cast<Span>(step) << 8) >=
               share_of(last, static_cast<uint8_t>(share() + 1u)))
            jitter_ = static_cast<uint16_t>((share() + 1u) << 5);
    }

    /// Three times the largest step; and a share of `units`, because steps of few say little: 1/2 after one,
    /// 1/4 after two, 1/8 after three (thermal flashers jitter 5-15 %, from memory), then 1/64.
    WINKHOLD_OUTLINED constexpr uint16_t spread(const RecentDurations& durations, uint16_t units,
                                                const Context& c) const {
        if (!c.spread) return 0;
        const uint8_t unsure = durations.knows(4) ? 6 : durations.knows(3) ? 3 : durations.knows(2) ? 2 : 1;
        const uint16_t steps =
            static_cast<uint16_t>(share_of(units, static_cast<uint8_t>(share() * 3u)) >> 8);
        return static_cast<uint16_t>(steps + (units >> unsure));
    }

    /// The largest step in 1/256 of the duration, at most 64.
    constexpr uint8_t share() const { return static_cast<uint8_t>(jitter_ >> 5); }
    WINKHOLD_OUTLINED static constexpr Span share_of(uint16_t units, uint8_t share) {
        return static_cast<Span>(units) * share;
    }

    RecentDurations gaps_;
    RecentDurations on_times_;
    Moment rose_{};
    Moment last_high_{};
    uint16_t jitter_{0};       ///< largest step, in 1/8192 of the duration
    uint16_t pending_on_{0};   ///< the last on phase, until the gap shows that it was over; 0: none
    uint16_t short_on_{0};     ///< the last on phase, if it was short; else 0
    uint8_t chatter_left_ : 4; ///< flashes until a chatter is forgotten
    uint8_t doubt_ : 2;        ///< like flashes still to come after a cut that turned out false
    uint8_t excused_ : 2;      ///< falls that teach nothing
    bool on_ : 1;
    bool timing_ : 1;     ///< the present phase may still be part of a rhythm
    bool first_ : 1;      ///< the present flash may have been joined midway
    bool first_only_ : 1; ///< such a flash is all that has been learned of on times
    bool short_ : 1;      ///< the pending on phase was short by what is known
    bool resumable_ : 1;  ///< the last on phase was a flash, not a stuck line
    bool cut_ : 1;
};

} // namespace core
} // namespace winkhold
