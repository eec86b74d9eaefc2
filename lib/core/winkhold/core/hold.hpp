/// One line: when does silence mean released?
#pragma once

#include "winkhold/core/rhythm.hpp"

namespace winkhold {
namespace core {

/// How long the dark gap that begins now may become by what is known of this bike: learned, or measured by
/// somebody. Unit: us; 0: nothing is known, or can be trusted. `on_beat`: the flash before it began on a
/// beat; a first flash does not, and says nothing of the tempo that its request will have.
constexpr Span expected_gap_us(const Rhythm& rhythm, bool on_beat, const Context& c) {
    if (on_beat && rhythm.knows_gap()) return rhythm.expected_gap_us(c);
    if (rhythm.is_irregular()) return 0;
    return c.spread ? static_cast<Span>(c.gap_prior_us + (c.gap_prior_us >> 2)) : c.gap_prior_us;
}

/// How long the dark gap that begins now is bridged, from the last high on. Unit: us.
constexpr Span hold_for_us(const Rhythm& rhythm, bool on_beat, const Context& c) {
    if (c.rule == HoldRule::fixed) return c.hold_us;
    const Span gap_us = expected_gap_us(rhythm, on_beat, c);
    return gap_us == 0 ? c.hold_us : least_us(static_cast<Span>(gap_us + c.guard_us), c.hold_us);
}

/// Held while a light burns that counts, and until the hold that began at the last high ends. A rise at that
/// very moment still bridges the gap, so let rises settle first and expire holds after.
class Hold {
public:
    /// A light burns that counts: held without an end.
    constexpr void rise() { state_ = State::burning; }
    /// It no longer burns: held for `hold_us` since `last_high`.
    constexpr void fall(Moment last_high, Span hold_us) {
        state_ = State::counting;
        release_at_ = after(last_high, hold_us);
    }
    /// Ends at once; the next rise holds again.
    constexpr void release() { state_ = State::released; }

    /// Lets go if the hold is over.
    constexpr void expire(const Context& c) {
        if (due(timer(), c.now)) release();
    }
    /// When the hold ends; unset while a light burns and once it is over.
    constexpr Timer timer() const { return Timer{state_ == State::counting, release_at_}; }

    /// A light that counts is lit; no hold runs yet.
    constexpr bool burning() const { return state_ == State::burning; }
    /// A light burns or its hold runs: the side is shown.
    constexpr bool held() const { return state_ != State::released; }

private:
    enum class State : uint8_t { released, burning, counting };

    Moment release_at_{};
    State state_{State::released};
};

} // namespace core
} // namespace winkhold
