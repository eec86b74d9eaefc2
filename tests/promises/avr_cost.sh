#!/usr/bin/env bash
# What a part of the core costs on an ATmega328P at -Os: a board with it against the same board without it.
# Usage: avr_cost.sh INCLUDE_DIR decoder|sequence MOST_FLASH MOST_RAM MOST_FRAME   (bytes). Fails above a ceiling.
set -eu
include=$(realpath "$1")
part=$2
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
cd "$scratch"

cat > decoder.cpp <<'CPP'
#include <avr/io.h>
#include "winkhold/core/core.hpp"
using namespace winkhold::core;
static_assert(check(Settings{}) == SettingsError::none, "");
#ifdef WITH
Decoder decoder{Settings{}};
#endif
volatile uint32_t clock_us; // set by a timer
volatile uint32_t wake_us;
int main() {
    for (;;) {
#ifdef WITH
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
# the demo vehicle's groups; their patterns are part of the cost
cat > sequence.cpp <<'CPP'
#include <avr/io.h>
#include "winkhold/core/core.hpp"
using namespace winkhold::core;
#ifdef WITH
constexpr LampGroup groups[] = {
    {Job::turn, Indication::left, 6, outward(30_ms), 255, 0},    {Job::turn, Indication::right, 6, outward(30_ms), 255, 0},
    {Job::turn, Indication::left, 6, outward(30_ms), 255, 0},    {Job::turn, Indication::right, 6, outward(30_ms), 255, 0},
    {Job::stop, Indication::hazard, 18, together(), 255, 40},    {Job::marker, Indication::left, 5, together(), 120, 0},
    {Job::marker, Indication::right, 5, together(), 120, 0},
};
static_assert(check(SequenceSettings{}, groups, 7) == SequenceError::none, "");
Sequence sequence{SequenceSettings{}, groups, 7};
#endif
Decoder decoder{Settings{}};
volatile uint32_t clock_us; // set by a timer
volatile uint32_t wake_us;
volatile uint8_t latch;
int main() {
    for (;;) {
        const Micros now{clock_us};
        const Lines lines{PIND};
        const Indication shown = decoder.step(now, lines);
        wake_us = decoder.wake_us().count_us;
#ifdef WITH
        if (!sequence.step(now, shown, settled_lines(decoder, lines))) continue;
        wake_us = sequence.wake().at.count_us;
        for (uint8_t i = 0; i < 7; ++i) {
            const GroupFrame frame = sequence.frame(i);
            for (uint8_t lamp = 0; lamp < groups[i].count; ++lamp)
                latch = frame.brightness(lamp);
        }
#else
        latch = static_cast<uint8_t>(shown);
#endif
    }
}
CPP
cat > sizes.cpp <<'CPP'
#include "winkhold/core/core.hpp"
char decoder_size[sizeof(winkhold::core::Decoder)];
char decoder_settings_size[sizeof(winkhold::core::Settings)];
char sequence_size[sizeof(winkhold::core::Sequence)];
char sequence_settings_size[sizeof(winkhold::core::SequenceSettings)];
CPP
avr() {
    avr-g++ -std=c++14 -mmcu=atmega328p -Os -Wall -Wextra -Werror -ffreestanding -fno-exceptions -fno-rtti -ffunction-sections \
        -Wl,--gc-sections -I"$include" "$@"
}
flash() { avr-size "$1" | awk 'NR == 2 { print $1 + $2 }'; }
size_of() { printf '%d' "0x$(avr-nm -S sizes.o | awk -v name="$1" '$4 == name { print $2 }')"; }

avr "$part.cpp" -o without
avr -DWITH -fstack-usage "$part.cpp" -o with
avr -c sizes.cpp -o sizes.o
flash=$(($(flash with) - $(flash without)))
ram=$(size_of "${part}_size")
read -r frame where < <(awk -F '\t' '{ print $2, $1 }' ./*.su | sort -n | tail -1)

echo "$part: flash $flash of at most $3 bytes; RAM $ram of at most $4 (settings $(size_of "${part}_settings_size"));" \
    "worst stack frame $frame of at most $5 ($where)"
[ "$flash" -le "$3" ] && [ "$ram" -le "$4" ] && [ "$frame" -le "$5" ]
