// Plays a ride through the core with this bike's settings, on the chip or in its simulator, and tells on the
// UART (115200 baud, 8N1) whether every lamp was as it must be. Lights nothing: all pins stay inputs.
#include "bike.hpp"

#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/pgmspace.h>
#include <avr/sleep.h>
#include <util/crc16.h>

#include "golden.hpp"

using namespace winkhold;

namespace {

void put(char c) {
    while ((UCSR0A & _BV(UDRE0)) == 0) {
    }
    UDR0 = static_cast<uint8_t>(c);
}
void print(const char* text) { // in flash
    for (char c; (c = static_cast<char>(pgm_read_byte(text))) != '\0'; ++text)
        put(c);
}
void print(uint16_t number) {
    if (number >= 10) print(static_cast<uint16_t>(number / 10));
    put(static_cast<char>('0' + number % 10));
}

constexpr uint8_t group_count = sizeof(bike::groups) / sizeof(bike::groups[0]);
core::Board board{bike::settings, bike::timing, bike::groups, group_count};
core::Micros now{golden::start_us};
core::Lines lines;
uint16_t digest = 0xffff;

void add(uint8_t byte) {
    digest = _crc_xmodem_update(digest, byte);
}
void add(core::Micros at) {
    for (uint8_t bit = 0; bit < 32; bit = static_cast<uint8_t>(bit + 8))
        add(static_cast<uint8_t>(at.count_us >> bit));
}

void step(core::Micros at, core::Lines levels) {
    now = at;
    lines = levels;
    board.step(now, lines);
    add(now);
    add(static_cast<uint8_t>(board.decoder().indication()));
    for (const firmware::RegisterRun& run : bike::register_runs)
        for (uint8_t i = 0; i < run.count; ++i)
            add(board.sequence().frame(run.group).brightness(static_cast<uint16_t>(run.first_lamp + i)));
    for (const firmware::PinLamp& lamp : bike::pin_lamps)
        if (lamp.pin != firmware::Pin::none) add(board.sequence().frame(lamp.group).brightness(lamp.lamp));
}

/// Up to a change, deadline by deadline.
void run_to(core::Micros then, core::Lines levels) {
    while (board.wake().armed && elapsed_us(board.wake().at, now) < elapsed_us(then, now))
        step(board.wake().at, lines);
    step(then, levels);
}

bool passes() {
    for (uint16_t i = 0; i < golden::count; ++i) {
        const golden::Change* const change = &golden::changes[i];
        run_to(after(now, pgm_read_dword(&change->after_us)), core::Lines{pgm_read_byte(&change->lines)});
        if (static_cast<uint8_t>(board.decoder().indication()) == pgm_read_byte(&change->shown) &&
            digest == pgm_read_word(&change->digest))
            continue;
        print(PSTR("self-test FAILED at change "));
        print(i);
        print(PSTR(": this core and these settings don't give it\n"));
        return false;
    }
    return true;
}

} // namespace

int main() {
    UCSR0A = _BV(U2X0);
    UBRR0 = 16; // 16 MHz / 8 / 17: 2.1 % fast, which receivers tolerate
    UCSR0C = _BV(UCSZ01) | _BV(UCSZ00);
    UCSR0B = _BV(TXEN0);
    if (passes()) {
        print(PSTR("self-test passed: "));
        print(golden::count);
        print(PSTR(" changes\n"));
    }
    while ((UCSR0A & _BV(UDRE0)) == 0) {
    }
    cli();
    sleep_enable();
    sleep_cpu();
}
