/// Words and numbers without a standard library.
#pragma once

#include "port.hpp"

namespace replay {

inline void print(const char* text) {
    while (*text != '\0')
        put(*text++);
}

inline void print(uint32_t number) {
    char digits[10];
    uint8_t count = 0;
    do {
        digits[count++] = static_cast<char>('0' + number % 10);
        number /= 10;
    } while (number != 0);
    while (count != 0)
        put(digits[--count]);
}

/// Folds everything that is not printed into one number. The steps are those of FNV-1a, 32 bits, whose
/// published check value for "foobar" the replay prints first.
class Digest {
public:
    void add(uint8_t byte) { sum_ = (sum_ ^ byte) * uint32_t{16'777'619}; }
    void add(uint32_t number) {
        for (uint8_t byte = 0; byte < 4; ++byte, number >>= 8)
            add(static_cast<uint8_t>(number & 0xff));
    }
    uint32_t sum() const { return sum_; }

private:
    uint32_t sum_{2'166'136'261};
};

} // namespace replay
