/// One line: when does silence mean released?
#pragma once

#include "winkhold/core/cadence.hpp"

namespace winkhold {
namespace core {

/// How long the dark gap that begins now is bridged, from the last high on. Unit: us.
constexpr uint32_t hold_for_us(const Settings& s, const Cadence& cadence) {
    if (s.rule == HoldRule::fixed) return s.hold_us;
    if (!cadence.knows_gap() && s.gap_prior_us == 0) return s.hold_us;
    const uint32_t gap_us = cadence.knows_gap() ? cadence.expected_gap_us(s) : s.gap_prior_us;
    return least_us(gap_us + s.guard_us, s.hold_us);
}

/// Held from a rise until the hold that began at the last high ends. A rise at that very moment still
/// bridges the gap, so let rises settle first and expire holds after.
class Hold {
public:
    constexpr void rise() {
        held_ = true;
        counting_ = false;
    }
    constexpr void fall(Micros last_high, uint32_t hold_us) {
        counting_ = held_;
        release_at_ = after(last_high, hold_us);
    }
    /// Ends at once; the next rise holds again.
    constexpr void release() {
        held_ = false;
        counting_ = false;
    }

    constexpr void expire(Micros now) {
        if (alarm().due(now)) release();
    }
    constexpr Alarm alarm() const { return Alarm{counting_, release_at_}; }

    constexpr bool held() const { return held_; }

private:
    Micros release_at_{};
    bool held_{false};
    bool counting_{false};
};

} // namespace core
} // namespace winkhold
