#!/usr/bin/env bash
# What the decoder costs on an ATmega328P at -Os: a board that decodes against the same board that doesn't.
# Usage: avr_cost.sh INCLUDE_DIR MOST_FLASH MOST_RAM MOST_FRAME   (bytes). Fails above a ceiling.
set -eu
include=$(realpath "$1")
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
cd "$scratch"

cat > board.cpp <<'CPP'
#include <avr/io.h>
#include "winkhold/core/core.hpp"
using namespace winkhold::core;
static_assert(check(Settings{}) == SettingsError::none, "");
#ifdef DECODES
Decoder decoder{Settings{}};
#endif
volatile uint32_t clock_us; // set by a timer
volatile uint32_t wake_us;
int main() {
    for (;;) {
#ifdef DECODES
        PORTB = static_cast<uint8_t>(decoder.step(Micros{clock_us}, Lines{PIND}));
        PORTC = static_cast<uint8_t>(decoder.faults(Side::left) | decoder.faults(Side::right));
        wake_us = decoder.wake_us().count_us;
#else
        PORTB = static_cast<uint8_t>(clock_us + PIND);
        PORTC = PORTB;
        wake_us = clock_us;
#endif
    }
}
CPP
cat > sizes.cpp <<'CPP'
#include "winkhold/core/core.hpp"
char decoder_size[sizeof(winkhold::core::Decoder)];
char settings_size[sizeof(winkhold::core::Settings)];
CPP
avr() {
    avr-g++ -std=c++14 -mmcu=atmega328p -Os -ffreestanding -fno-exceptions -fno-rtti -ffunction-sections \
        -Wl,--gc-sections -I"$include" "$@"
}
flash() { avr-size "$1" | awk 'NR == 2 { print $1 + $2 }'; }
size_of() { printf '%d' "0x$(avr-nm -S sizes.o | awk -v name="$1" '$4 == name { print $2 }')"; }

avr board.cpp -o without
avr -DDECODES -fstack-usage board.cpp -o with
avr -c sizes.cpp -o sizes.o
flash=$(($(flash with) - $(flash without)))
ram=$(size_of decoder_size)
read -r frame where < <(awk -F '\t' '{ print $2, $1 }' ./*.su | sort -n | tail -1)

echo "flash $flash of at most $2 bytes; RAM $ram of at most $3 (settings $(size_of settings_size));" \
    "worst stack frame $frame of at most $4 ($where)"
[ "$flash" -le "$2" ] && [ "$ram" -le "$3" ] && [ "$frame" -le "$4" ]
