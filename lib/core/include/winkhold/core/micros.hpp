/// Time in the core: one moment type, one subtraction.
#pragma once

#include <stdint.h>

namespace winkhold {
namespace core {

/// A moment on a free-running clock. Unit: us. Wraps after 71.6 min, which is harmless because
/// moments are only ever compared through elapsed_us().
struct Micros {
    uint32_t count_us{0};
};

/// Time from `then` to `now`. Unit: us. Right across a wrap, as long as less than 71.6 min lie between;
/// every stage disarms its timer on expiry, so that it never asks about anything older.
/// This is the only subtraction of moments: on 8-bit targets a raw one would promote differently.
constexpr uint32_t elapsed_us(Micros now, Micros then) {
    return static_cast<uint32_t>(now.count_us - then.count_us);
}

/// The moment `by_us` after `start`.
constexpr Micros after(Micros start, uint32_t by_us) {
    return Micros{static_cast<uint32_t>(start.count_us + by_us)};
}

/// True from `deadline` on (for half the clock's range, 35.8 min, after it).
constexpr bool reached(Micros now, Micros deadline) {
    return elapsed_us(now, deadline) < 0x80000000u;
}

/// What a stage answers when asked how long it can be left alone: for ever.
constexpr uint32_t forever_us = 0xffffffffu;

constexpr uint32_t least_us(uint32_t a_us, uint32_t b_us) {
    return a_us < b_us ? a_us : b_us;
}

/// A deadline that may be unset. Kept by setting it anew from what is left to wait.
struct Alarm {
    bool armed{false};
    Micros at{};

    constexpr bool due(Micros now) const { return armed && reached(now, at); }
    /// 0 if it is overdue.
    constexpr uint32_t wait_us(Micros now) const {
        const uint32_t left_us = elapsed_us(at, now);
        return !armed ? forever_us : left_us < 0x80000000u ? left_us : 0u;
    }
};

constexpr Alarm alarm_in(Micros now, uint32_t wait_us) {
    return Alarm{wait_us != forever_us, after(now, wait_us)};
}

namespace literals {
constexpr uint32_t operator""_us(unsigned long long count) {
    return static_cast<uint32_t>(count);
}
constexpr uint32_t operator""_ms(unsigned long long count) {
    return static_cast<uint32_t>(count * 1000u);
}
constexpr uint32_t operator""_s(unsigned long long count) {
    return static_cast<uint32_t>(count * 1000000u);
}
} // namespace literals

} // namespace core
} // namespace winkhold
