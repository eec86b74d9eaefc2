/// The rows of chip_pins().
#pragma once

#include "winkhold/bike/pins/chip_pins.hpp"

namespace winkhold::bike {

inline constexpr ChipPin chip_pin_table[] = {
    {"PB0", "D8", 14, 12},
    {"PB1", "D9", 15, 13, {}, "OC1A"},
    {"PB2", "D10", 16, 14, {}, "OC1B"},
    {"PB3", "D11", 17, 15, {}, "OC2A", "SPI data"}, // a programmer is on the SPI, too: it would make lamps
                                                    // flicker
    {"PB4", "D12", 18, 16, {}, {}, "SPI input"},
    {"PB5", "D13", 19, 17, {}, {}, "SPI clock"},
    {"PB6", "", 9, 7, {}, {}, "crystal"},
    {"PB7", "", 10, 8, {}, {}, "crystal"},
    {"PC0", "A0", 23, 23, 0},
    {"PC1", "A1", 24, 24, 1},
    {"PC2", "A2", 25, 25, 2},
    {"PC3", "A3", 26, 26, 3},
    {"PC4", "A4", 27, 27, 4},
    {"PC5", "A5", 28, 28, 5},
    {"PC6", "RESET", 1, 29, {}, {}, "reset"},
    {"PD0", "D0", 2, 30, {}, {}, "UART"},
    {"PD1", "D1", 3, 31, {}, {}, "UART"},
    {"PD2", "D2", 4, 32},
    {"PD3", "D3", 5, 1, {}, "OC2B"},
    {"PD4", "D4", 6, 2},
    {"PD5", "D5", 11, 9, {}, "OC0B"},
    {"PD6", "D6", 12, 10, {}, "OC0A"},
    {"PD7", "D7", 13, 11},
    {"ADC6", "A6", 0, 19, 6},
    {"ADC7", "A7", 0, 22, 7},
};

} // namespace winkhold::bike
