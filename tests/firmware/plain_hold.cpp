// What a plain board costs, to put Winkhold's beside it: two lines on pins, each with a fixed hold of 840 ms
// after its last high. No bounce, no rhythm, no lamps but one a side, no watchdog, nothing kept.
#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/sleep.h>

namespace {
constexpr uint16_t hold_ms = 840;
uint16_t left_ms[2];
} // namespace

ISR(TIMER0_COMPA_vect) {
    for (uint8_t side = 0; side < 2; ++side) {
        if ((PINC >> side & 1) != 0) left_ms[side] = hold_ms;
        if (left_ms[side] != 0) --left_ms[side];
    }
    PORTB = static_cast<uint8_t>((left_ms[0] != 0 ? 1 : 0) | (left_ms[1] != 0 ? 2 : 0));
}

int main() {
    DDRB = 3;
    TCCR0A = _BV(WGM01);
    OCR0A = 249; // 16 MHz / 64 / 250: 1 ms
    TIMSK0 = _BV(OCIE0A);
    TCCR0B = _BV(CS01) | _BV(CS00);
    sei();
    for (;;)
        sleep_mode();
}
