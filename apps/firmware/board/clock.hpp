/// The clock: timer 0 runs over every 128 us, which is a tick, and the PWM's period as well.
#pragma once

#include "winkhold/core/micros.hpp"

#include <avr/io.h>
#include <util/atomic.h>

namespace winkhold {
namespace firmware {

/// 16 MHz / 8 / 256. PWM at 7812 Hz, far above the 500-1000 Hz at which moving eyes see it best (Lighting
/// Research & Technology, doi 10.1177/14771535231169904, read).
constexpr uint8_t tick_us = 128;

/// Counts whole ticks in the interrupt; whoever asks in between adds what the timer has counted since.
class Clock {
public:
    /// All three timers alike: fast PWM of 8 bits, 16 MHz / 8.
    void start() {
        TCCR0A = _BV(WGM01) | _BV(WGM00);
        TCCR1A = _BV(WGM10);
        TCCR2A = _BV(WGM21) | _BV(WGM20);
        TCCR0B = _BV(CS01);
        TCCR1B = _BV(WGM12) | _BV(CS11);
        TCCR2B = _BV(CS21);
        TIMSK0 = _BV(TOIE0);
    }

    /// By the timer's interrupt: the moment of this tick.
    core::Micros tick() {
        ticked_ = after(ticked_, tick_us);
        return ticked_;
    }

    /// Now; with interrupts off. If the timer has run over and its interrupt still waits, the moment just
    /// before: what that interrupt stamps is never before a moment that has been told, and time never steps
    /// back.
    core::Micros now() const {
        const uint8_t count = TCNT0; // of half microseconds
        const bool tick_waits = (TIFR0 & _BV(TOV0)) != 0;
        return after(ticked_, tick_waits ? tick_us - 1 : count >> 1);
    }

private:
    core::Micros ticked_{};
};

} // namespace firmware
} // namespace winkhold
