/// Stop lamps: from the tap to the lamp within the interrupt, whatever the main loop is busy with.
#pragma once

#include "bike.hpp"
#include "pins.hpp"
#include "registers.hpp"

#include "winkhold/core/plain_taps.hpp"

namespace winkhold {
namespace firmware {

/// The same stages as in core::Board, on the same changes: core::PlainTaps settles the brake and the tail
/// light, LampGroup::stop_level() says what that lights. So both have one answer, this one sooner.
class StopLamps {
public:
    explicit StopLamps(const core::Settings& settings) : taps_(settings) {}

    /// step() has something to do, even if no line has changed.
    bool due(core::Micros now) const { return wake_.armed && reached(now, wake_.at); }

    /// By the interrupt.
    void step(core::Micros now, core::Lines lines, RegisterChain& registers) {
        using core::Lines;
        const core::Lines settled = taps_.step(now, Lines(lines.bits() & (Lines::brake | Lines::tail)));
        wake_ = taps_.wake();
        if (settled == settled_) return;
        settled_ = settled;
        if (registers_have_stop()) {
            bool lit = false;
            for (const RegisterRun& run : bike::register_runs)
                if (run.count != 0 && is_stop(run.group))
                    lit = bike::groups[run.group].stop_level(settled) != 0;
            registers.show_stop(lit);
        }
        for (const PinLamp& lamp : bike::pin_lamps)
            if (is_stop(lamp.group) && lamp.pin != Pin::none)
                show_level(lamp.pin, bike::groups[lamp.group].stop_level(settled));
    }

private:
    static constexpr bool is_stop(uint8_t group) { return bike::groups[group].job == core::Job::stop; }
    static constexpr bool registers_have_stop() {
        for (const RegisterRun& run : bike::register_runs)
            if (run.count != 0 && is_stop(run.group)) return true;
        return false;
    }

    core::PlainTaps taps_;
    core::Alarm wake_; ///< theirs, where each tick has it at hand
    core::Lines settled_;
};

} // namespace firmware
} // namespace winkhold
