// Twenty lines of a firmware of your own: left and right tap on PC0 and PC1, high while lit; the first lamp
// of the first group on PB0. Build: avr-g++ -std=c++14 -mmcu=atmega328p -Os -I. own_firmware.cpp -o
// own_firmware.elf
#include "bike.hpp"

#include <avr/io.h>

using namespace winkhold;

static core::Board board{bike::settings, bike::timing, bike::groups,
                         sizeof bike::groups / sizeof *bike::groups};

int main() {
    DDRB = _BV(PB0);
    TCCR1B = _BV(CS11); // 16 MHz / 8: half microseconds
    uint32_t clock_us = 0;
    for (uint16_t before = TCNT1;;) {
        const uint16_t passed_us = static_cast<uint16_t>(TCNT1 - before) / 2; // less than 32 ms
        before += 2 * passed_us;
        clock_us += passed_us;
        if (!board.step(core::Micros{clock_us}, core::Lines(PINC & 3))) continue;
        PORTB = board.sequence().frame(0).brightness(0) != 0 ? _BV(PB0) : 0;
    }
}
