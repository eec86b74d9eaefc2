/// One line: raw level -> settled level. Takes out contact bounce, short pulses and PWM gaps.
#pragma once

#include "winkhold/core/settings.hpp"

namespace winkhold {
namespace core {

enum class SettledEdge : uint8_t { none, rise, fall };

/// A rise settles once the line has been high for `settle_us`. On a chopped line (PWM gap > 0) it settles at
/// the first high at least `settle_us` after the first one with no low of the PWM gap or longer between.
/// A fall settles once the line has been low for the longer of `settle_us` and the PWM gap.
///
/// At one moment call expire() first (it judges the level up to now), then apply() (the level from now on).
class Settle {
public:
    /// Lets a deadline that `now` has reached take effect.
    constexpr SettledEdge expire(Micros now, const Settings& s) {
        if (!alarm(s).due(now)) return SettledEdge::none;
        if (on_) {
            on_ = false;
            rising_ = false;
            return SettledEdge::fall;
        }
        if (!raw_) { // the low after a first high has outlasted the PWM gap: start over
            rising_ = false;
            return SettledEdge::none;
        }
        on_ = true;
        return SettledEdge::rise;
    }

    /// Takes the level that holds from `now` on.
    constexpr SettledEdge apply(Micros now, bool high, const Settings& s) {
        if (high == raw_) return SettledEdge::none;
        raw_ = high;
        if (!high) {
            low_since_ = now;
            if (!on_ && s.pwm_gap_us == 0) rising_ = false;
        } else if (!on_ && !rising_) {
            rising_ = true;
            first_high_ = now;
        }
        return expire(now, s);
    }

    /// When expire() has something to do, if the level stays as it is.
    constexpr Alarm alarm(const Settings& s) const {
        if (on_) return Alarm{!raw_, after(low_since_, fall_us(s))};
        if (!rising_) return Alarm{};
        return raw_ ? Alarm{true, after(first_high_, s.settle_us)}
                    : Alarm{true, after(low_since_, s.pwm_gap_us)};
    }

    constexpr bool raw() const { return raw_; }
    constexpr bool on() const { return on_; }

    /// Valid when a fall settles: the moment the line last read high.
    constexpr Micros last_high() const { return low_since_; }

private:
    static constexpr uint32_t fall_us(const Settings& s) {
        return s.settle_us > s.pwm_gap_us ? s.settle_us : s.pwm_gap_us;
    }

    Micros first_high_{};
    Micros low_since_{};
    bool raw_{false};
    bool on_{false};
    bool rising_{false}; ///< a first high has been seen and no long low since
};

} // namespace core
} // namespace winkhold
