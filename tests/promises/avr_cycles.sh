#!/usr/bin/env bash
# The most cycles that one step takes on an ATmega328P at -Os: Decoder::step and Board::step on rides with every
# kind of fault, stepped at edges and wakes, and up to 3 ms late. The chip's own timer counts them, in simavr.
# Usage: avr_cycles.sh INCLUDE_DIR MOST_DECODER MOST_BOARD   (cycles). Fails above a ceiling.
set -eu
include=$(realpath "$1")
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
cd "$scratch"

cat > cycles.cpp <<'CPP'
#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/sleep.h>
#include "winkhold/core/core.hpp"
using namespace winkhold::core;

namespace {

uint32_t seed = 1;
uint16_t random(uint16_t below) { // xorshift
    seed ^= seed << 13;
    seed ^= seed >> 17;
    seed ^= seed << 5;
    return static_cast<uint16_t>(seed >> 8) % below;
}

/// A flasher with faults, in milliseconds: requests for left, right and both, flashes, and then bounce, breaks,
/// stray pulses on either line, a slipping rhythm, dips of the supply. Which of them, a ride's seed decides.
struct Ride {
    uint8_t show{0}, lines{Lines::supply}, kind{0};
    uint16_t left_ms{0}, on_ms{300}, dark_ms{300}, flashes{0};
    bool lit{false};

    uint16_t next() { // time until the lines change; lines: to what
        if (left_ms != 0) { // within a phase: something odd may happen
            const uint16_t part = left_ms > 60 && random(6) == 0 ? 1 + random(60) : left_ms;
            left_ms -= part;
            if (left_ms != 0) lines ^= static_cast<uint8_t>(1u << (kind & 1 ? random(2) : random(5) == 0 ? 4 : show == 2));
            if (left_ms != 0) return part;
            phase();
            return part;
        }
        phase();
        return 1;
    }
    void phase() {
        if (flashes == 0) {
            show = static_cast<uint8_t>(random(4));
            flashes = 1 + random(12);
            kind = static_cast<uint8_t>(random(4));
            if (random(6) == 0) on_ms = 60 + random(400), dark_ms = 60 + random(500);
            if (random(5) == 0) left_ms = random(2000);
        }
        lit = !lit;
        if (!lit) --flashes;
        lines = static_cast<uint8_t>((lit ? show : 0) | Lines::supply | (random(3) ? 0 : Lines::brake));
        left_ms += (lit ? on_ms : dark_ms) + (kind & 2 ? random(20) : 0);
    }
};

void put(char c) {
    while ((UCSR0A & _BV(UDRE0)) == 0) {}
    UDR0 = static_cast<uint8_t>(c);
}
void put(uint16_t n) {
    if (n >= 10) put(static_cast<uint16_t>(n / 10));
    put(static_cast<char>('0' + n % 10));
}

/// scan_ms 0: stepped at edges and wakes; else every so many milliseconds, so mostly late.
template <class Machine>
uint16_t most_cycles(Machine machine, uint8_t scan_ms, uint16_t edges) {
    Ride ride;
    uint32_t now = 0xfff00000;
    uint16_t most = 0;
    uint8_t lines = Lines::supply;
    while (edges-- != 0) {
        uint32_t wait = ride.next() * 1000ul + random(1000);
        while (wait != 0) {
            uint32_t part = scan_ms != 0 ? scan_ms * 1000ul : wait;
            if (scan_ms == 0 && machine.wake().armed && elapsed_us(machine.wake().at, Micros{now}) < part)
                part = elapsed_us(machine.wake().at, Micros{now});
            if (part >= wait) {
                part = wait;
                lines = ride.lines;
            }
            now += part;
            wait -= part;
            TCNT1 = 0;
            machine.step(Micros{now}, Lines{lines});
            const uint16_t took = TCNT1;
            if (took > most) most = took;
        }
    }
    return most;
}

constexpr LampGroup groups[] = {
    {Job::turn, Indication::left, 6, outward(30_ms), 255, 0},
    {Job::turn, Indication::right, 6, outward(30_ms), 255, 0},
    {Job::stop, Indication::hazard, 18, together(), 255, 40},
    {Job::marker, Indication::left, 5, together(), 120, 0},
};

} // namespace

int main() {
    UCSR0B = _BV(TXEN0);
    TCCR1B = _BV(CS10);
    uint16_t decoder = 0, board = 0;
    const uint8_t scans_ms[] = {0, 1, 3};
    for (const uint8_t scan_ms : scans_ms) {
        const uint16_t d = most_cycles(Decoder{Settings{}}, scan_ms, 3000);
        const uint16_t b = most_cycles(Board{Settings{}, SequenceSettings{}, groups, 4}, scan_ms, 1500);
        put('d'); put(d); put(' '); put('b'); put(b); put('\n');
        if (d > decoder) decoder = d;
        if (b > board) board = b;
    }
    for (const char c : "most ")
        if (c != '\0') put(c);
    put(decoder); put(' '); put(board); put('\n');
    cli();
    sleep_enable();
    sleep_cpu();
}
CPP
avr-g++ -std=c++14 -mmcu=atmega328p -Os -fno-exceptions -fno-rtti -I"$include" cycles.cpp -o cycles.elf
timeout 300 simavr -m atmega328p -f 16000000 cycles.elf > log 2>&1 || true
read -r decoder board < <(sed -n 's/.*most \([0-9]*\) \([0-9]*\).*/\1 \2/p' log) || { cat log; exit 1; }
echo "Decoder::step takes at most $decoder of $2 cycles, Board::step $board of $3"
[ -n "${SHOW:-}" ] && cat log
[ "$decoder" -le "$2" ] && [ "$board" -le "$3" ]
