/// Faults a line shows. They are reported beside the answer and never change it.
#pragma once

#include "winkhold/core/cadence.hpp"
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

class Watch {
public:
    constexpr Watch() : changes_(0), fast_before_(false) {}

    /// A raw change that a declared PWM gap doesn't explain.
    constexpr void raw_change(const Settle& line, const Context& c) {
        if (c.pwm_gap_us != 0 && line.on()) return;
        expire(c);
        if (changes_ == 0) since_ = c.now;
        if (changes_ < built_in::chatter_changes) ++changes_;
        if (changes_ == built_in::chatter_changes) faults_ |= chatter;
    }

    constexpr void rise(Beat beat) {
        changes_ = 0;
        const bool fast = beat == Beat::fast;
        if (!fast)
            clear(fast_flash);
        else if (fast_before_)
            faults_ |= fast_flash;
        fast_before_ = fast;
    }

    constexpr void fall() {
        changes_ = 0;
        clear(stuck_on);
    }

    constexpr void stuck() { faults_ |= stuck_on; }

    constexpr void expire(const Context& c) {
        if (!due(timer(), c.now)) return;
        if (changes_ < built_in::chatter_changes) clear(chatter);
        changes_ = 0;
    }
    constexpr Timer timer() const { return Timer{changes_ != 0, after(since_, built_in::chatter_window_us)}; }

    constexpr uint8_t faults() const { return faults_; }

private:
    constexpr void clear(Fault fault) { faults_ = static_cast<uint8_t>(faults_ & ~fault); }

    Moment since_{};
    uint8_t changes_ : 4;
    bool fast_before_ : 1;
    uint8_t faults_{0};
};

} // namespace core
} // namespace winkhold
