/// What the replay needs of a machine: a place to print to, and a way to read what is stored with the
/// program.
#pragma once

#include <stdint.h>

#ifdef __AVR__
#include <avr/pgmspace.h>
#define REPLAY_STORED PROGMEM // 2 KiB of RAM don't hold the recordings
#else
#define REPLAY_STORED
#endif

namespace replay {

/// One byte of something declared REPLAY_STORED.
inline uint8_t stored(const uint8_t* at) {
#ifdef __AVR__
    return pgm_read_byte(at);
#else
    return *at;
#endif
}

/// Each port brings its own.
void put(char c);
/// Plays everything and prints it; a port calls it once.
void play_all();

} // namespace replay
