/// Tables worked out by the compiler.
#pragma once

#include <stdint.h>

namespace winkhold {
namespace firmware {

/// `count` entries, each a function of its number. (A constexpr function that fills an array would do as
/// well, but avr-gcc 5 crashes on it.)
template <uint8_t (*entry)(uint8_t), uint8_t count, uint8_t... number>
struct Table : Table<entry, count - 1, count - 1, number...> {};

template <uint8_t (*entry)(uint8_t), uint8_t... number>
struct Table<entry, 0, number...> {
    uint8_t at[sizeof...(number)];

    constexpr Table() : at{entry(number)...} {}
};

} // namespace firmware
} // namespace winkhold
