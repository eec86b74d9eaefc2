/// What watches over the rest: the watchdog from the first instruction on, and the deep sleep of a parked
/// bike.
#pragma once

#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/sleep.h>
#include <avr/wdt.h>

namespace winkhold {
namespace firmware {

/// Interrupts off. `bits` of WDTCSR, which the chip takes within four clocks of the first write only.
inline void set_watchdog(uint8_t bits) {
    wdt_reset();
    WDTCSR = _BV(WDCE) | _BV(WDE);
    WDTCSR = bits;
}

/// Resets the chip if the main loop has not been round, on fresh looks at all taps, for 64 ms of an
/// oscillator that may be off by 10 % and more.
constexpr uint8_t watchdog_bites = _BV(WDE) | _BV(WDP1);
/// Wakes a parked board every 125 ms; if the board then doesn't take the watchdog back, the next time is a
/// reset.
constexpr uint8_t watchdog_wakes = _BV(WDIE) | _BV(WDE) | _BV(WDP1) | _BV(WDP0);

/// Everything off but the watchdog and the pins, until one of them wakes the chip. Interrupts off before and
/// after; the caller has set up which pins wake it.
inline void sleep_deeply() {
    set_watchdog(watchdog_wakes);
    ACSR = _BV(ACD); // the analog comparator, which nobody uses, would go on
    set_sleep_mode(SLEEP_MODE_PWR_DOWN);
    sleep_enable();
    sleep_bod_disable(); // the brown-out detector takes more than all else that is still on
    sei();
    sleep_cpu();
    cli();
    sleep_disable();
    set_watchdog(watchdog_bites);
}

/// Until the next interrupt; timers and ADC go on. Interrupts off before, on after, so that none can come
/// between the decision to sleep and the sleep.
inline void sleep_lightly() {
    set_sleep_mode(SLEEP_MODE_IDLE);
    sleep_enable();
    sei();
    sleep_cpu();
    sleep_disable();
}

} // namespace firmware
} // namespace winkhold

/// Runs before anything else, even before RAM is set up. After a reset by the watchdog it is still on with
/// its shortest time, 16 ms, so it cannot wait; after any other it is on from here.
extern "C" void watch_from_the_start() __attribute__((naked, used, section(".init3")));
extern "C" void watch_from_the_start() {
    MCUSR = 0; // its WDRF would hold the watchdog to 16 ms
    winkhold::firmware::set_watchdog(winkhold::firmware::watchdog_bites);
}
