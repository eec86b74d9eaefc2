/// What bike.hpp is written in: pins of the ATmega328P, taps, and what lights a lamp. Types only, no code
/// that runs.
#pragma once

#include "winkhold/core/core.hpp"

namespace winkhold {
namespace firmware {

/// A pin of the chip: port (B 0, C 1, D 2) * 8 + bit. Boards with 14 digital and 8 analog pins print d0-d7 as
/// D0-D7, b0-b5 as D8-D13, c0-c5 as A0-A5 and the ADC's own inputs adc6, adc7 as A6, A7.
///
///     reserved  d0, d1 (UART), c6 (reset), b6, b7 (the 16 MHz crystal); b3, b5 (SPI) if there are registers,
///               and then b2 has to be an output: a latch, an enable or a lamp, but no tap
///     PWM       d3, d5, d6, b1, b2, b3
///     analog    c0-c5, adc6, adc7
enum class Pin : uint8_t {
    b0 = 0,
    b1,
    b2,
    b3,
    b4,
    b5,
    c0 = 8,
    c1,
    c2,
    c3,
    c4,
    c5,
    adc6,
    adc7, // the last two can only be read by the ADC
    d0 = 16,
    d1,
    d2,
    d3,
    d4,
    d5,
    d6,
    d7,
    none = 0xff,
};

/// One wire that the board listens to. Two taps may have one line: it is lit while either is.
struct Tap {
    core::Lines::Tap line;
    Pin pin;
    /// Lit while the pin reads high. False: the switch is on the ground side, the line is low while lit.
    bool lit_high;
    /// By the ADC: high from `high_count` on, low up to `low_count`, and as before in between. Counts of 1024
    /// over the chip's supply. Both 0: a digital input (a Schmitt trigger's output, or the pin's own levels).
    uint16_t high_count;
    uint16_t low_count;

    constexpr bool analog() const { return high_count != 0; }
};

/// A tap on a digital input.
constexpr Tap digital_tap(core::Lines::Tap line, Pin pin, bool lit_high) {
    return Tap{line, pin, lit_high, 0, 0};
}
/// A tap on an ADC input, with both thresholds.
constexpr Tap adc_tap(core::Lines::Tap line, Pin pin, bool lit_high, uint16_t high_count,
                      uint16_t low_count) {
    return Tap{line, pin, lit_high, high_count, low_count};
}

/// Register outputs side by side that switch lamps of one group. The outputs of the chain are numbered from 0
/// on: the first output of the register next to the board's data pin is 0, and so on through the chain.
struct RegisterRun {
    uint8_t group;        ///< in bike::groups
    uint8_t first_lamp;   ///< of the group, on first_output; the next lamp is on the next output
    uint8_t first_output; ///< of the chain
    uint8_t count;        ///< lamps, and outputs
};

/// A pin (or the transistor behind it) that lights one lamp of a group, or all lamps of one that has no
/// pattern of lamps. High is lit. A PWM pin shows all brightnesses, any other pin 0 and 255.
struct PinLamp {
    uint8_t group; ///< in bike::groups
    uint8_t lamp;  ///< whose brightness it shows
    Pin pin;
};

/// Where the registers hang. Data is b3 and clock b5, the SPI's.
struct Registers {
    uint8_t outputs; ///< of all registers of the chain together; 0: there are no registers
    uint8_t level;   ///< brightness of a lit output, 1-255, the same for all; below 255 `enable` is a PWM pin
    Pin latch;       ///< a rise shows what has been shifted in
    Pin enable;      ///< low: outputs are on; a pull-up keeps them off until the firmware speaks
    uint32_t shift_hz; ///< they follow so quickly; the SPI runs at 8 MHz / 2^n, at most so quick
};

} // namespace firmware
} // namespace winkhold
