/// Brake, tail and supply taps: settled, nothing more. A stop lamp must not wait for a hold.
#pragma once

#include "winkhold/core/lines.hpp"
#include "winkhold/core/settle.hpp"

namespace winkhold {
namespace core {

/// Beside the Decoder, for boards that tap these lines. Step it like the Decoder.
class PlainTaps {
public:
    /// All taps dark; `settings` must pass check().
    constexpr explicit PlainTaps(const Settings& settings) : context_(settings) {}

    /// The settled taps from `now` on, given the levels from `now` on: `lines` without the turn lines.
    constexpr Lines step(Micros now, Lines lines) {
        while (wake_.due(now) && wake_.at.count_us != now.count_us)
            at(wake_.at, lines_);
        if (lines != lines_ || wake_.due(now)) at(now, lines);
        return settled_;
    }

    /// The answer of the last step().
    constexpr Lines settled() const { return settled_; }
    /// Goes on with other settings, which must pass check().
    constexpr void retune(const Settings& settings) { static_cast<Settings&>(context_) = settings; }

    /// When to call step() again if no line changes before.
    constexpr Alarm wake() const { return wake_; }

private:
    constexpr void at(Micros now, Lines lines) {
        context_.now = moment(now);
        Soonest soonest(context_.now);
        Lines::Tap tap = Lines::brake;
        for (Settle& settle : taps_) {
            settle.expire(context_);
            if (settle.raw() != lines.has(tap)) settle.change(context_);
            settled_ = settled_.with(tap, settle.on());
            soonest.add(settle.timer());
            tap = static_cast<Lines::Tap>(tap << 1);
        }
        lines_ = lines;
        wake_ = alarm_in(now, soonest.wait_us());
    }

    Context context_;
    Settle taps_[3]; ///< brake, tail, supply
    Alarm wake_;
    Lines lines_;
    Lines settled_;
};

} // namespace core
} // namespace winkhold
