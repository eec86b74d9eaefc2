/// One line: raw level -> settled level. Takes out contact bounce, short pulses and PWM gaps.
#pragma once

#include "winkhold/core/settings.hpp"

namespace winkhold {
namespace core {

/// What a line's settled level did at one moment.
enum class SettledEdge : uint8_t { none, rise, fall };

/// A rise settles once the line has been high for `settle_us`. On a chopped line (PWM gap > 0) it settles at
/// the first high at least `settle_us` after the first one with no low of the PWM gap or longer between.
/// A fall settles once the line has been low for the longer of `settle_us` and the PWM gap.
///
/// At one moment call expire() first (it judges the level up to c.now), then change() (the level from now
/// on).
class Settle {
public:
    /// Lets a deadline that `now` has reached take effect.
    WINKHOLD_OUTLINED constexpr SettledEdge expire(const Context& c) {
        if (!due(timer(), c.now)) return SettledEdge::none;
        if (state_ == State::starting) {
            state_ = State::lit;
            return SettledEdge::rise;
        }
        const bool was_on = on();
        state_ = State::dark;
        return was_on ? SettledEdge::fall : SettledEdge::none;
    }

    /// The level is another from `now` on.
    constexpr SettledEdge change(const Context& c) {
        if (state_ == State::ending) {
            state_ = State::lit;
            return SettledEdge::none;
        }
        if (state_ == State::dark || state_ == State::lit) mark_ = c.now;
        due_ = mark_;
        Span wait_us = c.settle_us;
        if (state_ == State::starting) {
            due_ = c.now;
            wait_us = c.pwm_gap_us;
            state_ = State::pausing;
        } else if (state_ == State::lit) {
            if (wait_us < c.pwm_gap_us) wait_us = c.pwm_gap_us;
            state_ = State::ending;
        } else {
            state_ = State::starting;
        }
        due_ = after(due_, wait_us);
        return expire(c);
    }

    /// When expire() has something to do, if the level stays as it is.
    constexpr Timer timer() const { return Timer{state_ != State::dark && state_ != State::lit, due_}; }

    /// The level as last read, before it has settled.
    constexpr bool raw() const { return state_ == State::starting || state_ == State::lit; }
    /// The settled level.
    constexpr bool on() const { return state_ >= State::lit; }

    /// Valid when a fall settles: the moment the line last read high.
    constexpr Moment last_high() const { return mark_; }

private:
    enum class State : uint8_t {
        dark,
        starting, ///< high since the first high or the last pause
        pausing,  ///< low again, but perhaps only for a PWM gap
        lit,
        ending, ///< low, but perhaps only for a PWM gap or a bounce
    };

    Moment mark_{}; ///< the first high while starting or pausing; the last high while ending
    Moment due_{};
    State state_{State::dark};
};

} // namespace core
} // namespace winkhold
