/// Pins by number: directions, levels, and the timers' PWM on those that have it.
#pragma once

#include "parts.hpp"

#include <avr/io.h>

namespace winkhold {
namespace firmware {

constexpr uint8_t number_of(Pin pin) {
    return static_cast<uint8_t>(pin);
}
constexpr uint8_t bit_of(Pin pin) {
    return static_cast<uint8_t>(1u << (number_of(pin) & 7u));
}
/// PINx; DDRx and PORTx follow it.
inline volatile uint8_t* in_register(Pin pin) {
    return &PINB + 3 * (number_of(pin) >> 3);
}

inline bool reads_high(Pin pin) {
    return (*in_register(pin) & bit_of(pin)) != 0;
}

/// Interrupts off: others change bits of the same port.
inline void drive(Pin pin, bool high) {
    volatile uint8_t& port = in_register(pin)[2];
    port = static_cast<uint8_t>(high ? port | bit_of(pin) : port & ~bit_of(pin));
}

/// Interrupts off.
inline void make_output(Pin pin, bool high) {
    if (pin == Pin::none) return;
    drive(pin, high);
    volatile uint8_t& direction = in_register(pin)[1];
    direction = static_cast<uint8_t>(direction | bit_of(pin));
}

/// The compare unit that can drive a pin.
struct PwmUnit {
    volatile uint8_t* control; ///< TCCRnA; null: the pin has no PWM
    volatile uint8_t* compare; ///< OCRnx; timer 1: the low byte, its high byte stays 0
    uint8_t connects;          ///< COMnx1: set at the bottom, cleared at the match
};

constexpr bool has_pwm(Pin pin) {
    return pin == Pin::d3 || pin == Pin::d5 || pin == Pin::d6 || pin == Pin::b1 || pin == Pin::b2 ||
           pin == Pin::b3;
}

inline PwmUnit pwm_unit(Pin pin) {
    switch (pin) {
    case Pin::d6:
        return {&TCCR0A, &OCR0A, _BV(COM0A1)};
    case Pin::d5:
        return {&TCCR0A, &OCR0B, _BV(COM0B1)};
    case Pin::b1:
        return {&TCCR1A, &OCR1AL, _BV(COM1A1)};
    case Pin::b2:
        return {&TCCR1A, &OCR1BL, _BV(COM1B1)};
    case Pin::b3:
        return {&TCCR2A, &OCR2A, _BV(COM2A1)};
    case Pin::d3:
        return {&TCCR2A, &OCR2B, _BV(COM2B1)};
    default:
        return {nullptr, nullptr, 0};
    }
}

/// High for `level` of 256 parts of the time, 255 for all of it; without PWM, for all of it unless `level` is
/// 0. Interrupts off. The ends are the port's: a compare value of 0 still gives a spike of one part. All
/// others are taken over by the timer at its next bottom, without a glitch (data sheet, double buffering of
/// OCRnx in fast PWM; from memory).
inline void show_level(Pin pin, uint8_t level) {
    const PwmUnit unit = pwm_unit(pin);
    const bool pulsed = unit.control != nullptr && level != 0 && level != 255;
    if (pulsed) {
        *unit.compare = static_cast<uint8_t>(level - 1);
        *unit.control = static_cast<uint8_t>(*unit.control | unit.connects);
    } else {
        if (unit.control != nullptr) *unit.control = static_cast<uint8_t>(*unit.control & ~unit.connects);
        drive(pin, level != 0);
    }
}

} // namespace firmware
} // namespace winkhold
