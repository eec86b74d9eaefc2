#!/usr/bin/env bash
# Builds the recorder and prints what it takes of an ATmega328P. Usage: build.sh [FOLDER]   (default: here)
set -euo pipefail
source=$(dirname "$(realpath "$0")")/recorder.cpp
cd "${1:-.}"
avr-g++ -std=c++14 -mmcu=atmega328p -DF_CPU=16000000UL -Os -Wall -Wextra -Werror -fno-exceptions -fno-rtti \
    -ffunction-sections -Wl,--gc-sections "$source" -o recorder.elf
avr-objcopy -O ihex -R .eeprom recorder.elf recorder.hex
avr-size recorder.elf | awk 'NR == 2 { print "flash " $1 + $2 " of 32768 bytes; RAM " $2 + $3 " of 2048" }'
