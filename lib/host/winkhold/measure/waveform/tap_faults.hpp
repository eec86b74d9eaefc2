/// What goes wrong between lamp and tap, as levels: broken taps, chatter, PWM, running lamps, test pulses,
/// hum, half waves.
#pragma once

#include "winkhold/base/range.hpp"
#include "winkhold/core/lines.hpp"
#include "winkhold/measure/waveform/disturbance.hpp"

#include <vector>

namespace winkhold::measure {

/// A tap that reads one level for a while, whatever the lamp does.
struct BrokenTap {
    core::Side tap{core::Side::left};
    bool high{false};       ///< true: shorted to a live wire; false: open
    Range from_us{0};       ///< drawn each ride
    Range for_us{86'400e6}; ///< drawn each ride

    /// A tap that nothing holds picks up hum: every so often, for so long, at this rate, high for this share
    /// of each period. Each drawn anew for each burst; a rate of 0: no hum.
    Range hum_hz{0};
    Range hum_percent{50};
    Range hum_every_us{0};
    Range hum_for_us{0};
};

/// Drawn each ride unless said otherwise. A zero leaves that fault out.
struct TapFaults {
    std::vector<BrokenTap> broken;

    /// A closed contact that vibrates: every so often, for so long, at this rate (half of it open). Each
    /// draw is made anew for each burst.
    Range chatter_every_us{0};
    Range chatter_for_us{0};
    Range chatter_hz{100};

    /// A lamp driver that chops the lit lamp: lit this share of each period.
    Range pwm_hz{0};
    Range pwm_percent{50};

    /// Lamps fed by half waves of the generator, without a battery: both lines in phase, lit half of each
    /// period at most.
    Range half_wave_hz{0};

    /// A running lamp on the turn line: the dark phases are chopped, too.
    Range running_hz{0};
    Range running_percent{30};

    /// A controller that looks for broken lamps with short pulses on a dark line; each drawn anew.
    Range test_pulse_every_us{0};
    Range test_pulse_us{0};

    /// The taps sit at opposite ends of a bike whose hazard lights front and rear in turn: right lights when
    /// left goes dark.
    bool alternate{false};

    std::vector<Disturbance> disturbances; ///< flash by flash; all of them act

    /// Anything that spoils a tap over time, whatever the flashes do.
    bool any() const {
        return !broken.empty() || !chatter_every_us.zero() || !pwm_hz.zero() || !running_hz.zero() ||
               !half_wave_hz.zero() || !test_pulse_every_us.zero();
    }
};

} // namespace winkhold::measure
