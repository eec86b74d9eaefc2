/// Faults a line shows. They are reported beside the answer and never change it.
#pragma once

#include "winkhold/core/settle.hpp"

namespace winkhold {
namespace core {

/// Faults of one line as a mask.
enum Fault : uint8_t {
    fast_flash = 1, ///< two periods in a row too short: possibly a lamp is out
    stuck_on = 2,   ///< on for longer than any flash
    chatter = 4,    ///< changes without settling: a loose contact, or PWM nobody declared
    as_one = 8, ///< both sides move as one: a hazard, or cross-feed through a shared pilot lamp; can't tell
    alternating =
        16, ///< the sides take turns: taps at front and rear of a bike that flashes them alternately
};

class Watch {
public:
    /// A raw change that a declared PWM gap doesn't explain.
    constexpr void raw_change(Micros now, const Settle& line, const Settings& s) {
        if (s.pwm_gap_us != 0 && line.on()) return;
        expire(now);
        if (changes_ == 0) since_ = now;
        if (changes_ < limits::chatter_changes) ++changes_;
        if (changes_ == limits::chatter_changes) faults_ |= chatter;
    }

    /// A settled rise, `period_us` after the one before (0: not in rhythm).
    constexpr void rise(uint32_t period_us) {
        settled();
        const bool fast = period_us != 0 && period_us < limits::fast_period_us;
        if (fast && fast_before_)
            faults_ |= fast_flash;
        else if (!fast)
            clear(fast_flash);
        fast_before_ = fast;
    }

    constexpr void fall() {
        settled();
        clear(stuck_on);
    }

    constexpr void stuck() { faults_ |= stuck_on; }
    /// What both lines together show, as a mask of Fault.
    constexpr void notice(uint8_t faults) {
        faults_ = static_cast<uint8_t>((faults_ & ~(as_one | alternating)) | faults);
    }

    constexpr void expire(Micros now) {
        if (!alarm().due(now)) return;
        if (changes_ < limits::chatter_changes) clear(chatter);
        changes_ = 0;
    }
    constexpr Alarm alarm() const { return Alarm{changes_ != 0, after(since_, limits::chatter_window_us)}; }

    constexpr uint8_t faults() const { return faults_; }

private:
    constexpr void settled() { changes_ = 0; }
    constexpr void clear(Fault fault) { faults_ = static_cast<uint8_t>(faults_ & ~fault); }

    Micros since_{};
    uint8_t changes_{0};
    uint8_t faults_{0};
    bool fast_before_{false};
};

} // namespace core
} // namespace winkhold
