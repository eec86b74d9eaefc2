/// Faults the lines show. They are reported beside the answer and never change it.
#pragma once

#include "winkhold/core/lines.hpp"
#include "winkhold/core/settle.hpp"

namespace winkhold {
namespace core {

/// Faults of one line as a mask.
enum Fault : uint8_t {
    fast_flash = 1, ///< two periods in a row too short, or shorter than usual: possibly a lamp is out
    stuck_on = 2,   ///< on for longer than any flash
    chatter = 4,    ///< changes without settling: a loose contact, or PWM nobody declared
    as_one = 8, ///< both sides move as one: a hazard, or cross-feed through a shared pilot lamp; can't tell
    alternating =
        16, ///< the sides take turns: taps at front and rear of a bike that flashes them alternately
};

/// One line: does it settle?
class ChatterWatch {
public:
    constexpr ChatterWatch() : changes_(0), chatters_(false) {}

    /// A raw change that a declared PWM gap doesn't explain.
    constexpr void raw_change(const Settle& line, const Context& c) {
        if (c.pwm_gap_us != 0 && line.on()) return;
        expire(c);
        if (changes_ == 0) since_ = c.now;
        if (changes_ < built_in::chatter_changes) ++changes_;
        if (changes_ == built_in::chatter_changes) chatters_ = true;
    }
    /// The line has come to rest: what changed before is no chatter.
    constexpr void settled() { changes_ = 0; }

    /// Ends the window if it is over: too few changes in it end the chatter.
    constexpr void expire(const Context& c) {
        if (!due(timer(), c.now)) return;
        if (changes_ < built_in::chatter_changes) chatters_ = false;
        changes_ = 0;
    }
    /// When the present window ends; unset if nothing has changed.
    constexpr Timer timer() const { return Timer{changes_ != 0, after(since_, built_in::chatter_window_us)}; }

    /// In the last window the raw level changed too often without settling.
    constexpr bool chatters() const { return chatters_; }

private:
    Moment since_{};
    uint8_t changes_ : 4;
    bool chatters_ : 1;
};

/// Both lines: how their flashes follow each other.
class PairWatch {
public:
    /// Both sides have risen together, perhaps at once.
    constexpr void together(bool at_once) {
        turns_ = 0;
        if (!at_once)
            as_one_ = 0;
        else if (as_one_ < 3)
            ++as_one_;
    }
    /// A side has risen alone; in turn with the other one or not; perhaps as the first of a hazard's two.
    constexpr void alone(bool in_turn, bool hazard) {
        if (!hazard) as_one_ = 0;
        if (!in_turn)
            turns_ = 0;
        else if (turns_ < 4)
            ++turns_;
    }
    /// A flash of `side` has begun, `period_us` after the one before.
    constexpr void tempo(Side side, Span period_us) {
        if (!is_fast(period_us)) {
            fast_.remove(side);
            fast_once_.remove(side);
            return;
        }
        if (fast_once_.has(side)) fast_.add(side);
        fast_once_.add(side);
    }

    /// Mask of Fault: periods of this side; both sides have flashed as one three times in a row, or have
    /// taken turns, flash by flash, five times.
    constexpr uint8_t notices(Side side) const {
        return static_cast<uint8_t>((fast_.has(side) ? fast_flash : 0) | (as_one_ >= 3 ? as_one : 0) |
                                    (turns_ >= 4 ? alternating : 0));
    }

    /// Closer than two contacts of one relay; both sides on one wire are.
    static constexpr Span at_once_us = 300;

private:
    /// Faster than any flasher should be, or than this one usually is by 3/8, since a lamp out speeds
    /// flashers up by 1.5 to 2.4 (from memory). A fast period never becomes the usual one; and of two the
    /// lesser does, because one flash may have been left out.
    constexpr bool is_fast(Span period_us) {
        const uint16_t period = static_cast<uint16_t>(period_us >> 8);
        const bool fast = period + (period >> 2) + (period >> 3) < usual_;
        if (!fast) usual_ = period < before_ ? period : before_;
        before_ = period;
        return fast || period_us < built_in::fast_period_us;
    }

    uint16_t usual_{0};  ///< period in 256 us; 0: not known
    uint16_t before_{0}; ///< period in 256 us
    Sides fast_once_;
    Sides fast_;
    uint8_t as_one_{0};
    uint8_t turns_{0};
};

} // namespace core
} // namespace winkhold
