/// Time in the core: the user's clock, the stages' moments, one subtraction for each.
#pragma once

#include <stdint.h>

namespace winkhold {
namespace core {

/// A moment on the user's free-running clock. Unit: us. Wraps after 71.6 min, which is harmless because
/// moments are only ever compared through elapsed_us().
struct Micros {
    uint32_t count_us{0};
};

/// Time from `then` to `now`. Unit: us. Right across a wrap, as long as less than 71.6 min lie between.
/// This is the only subtraction: on 8-bit targets a raw one would promote differently.
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

/// When somebody wants to be called again, if at all.
struct Alarm {
    bool armed{false};
    Micros at{};

    /// It is armed and its moment has come, within half the clock's range.
    constexpr bool due(Micros now) const { return armed && reached(now, at); }
};

/// A time inside the core. Unit: us. Nothing there lasts longer than 5 s, so 24 bits do: a quarter less code
/// and memory on an 8-bit part.
#ifdef __AVR__
__extension__ typedef __uint24 Span;
#define WINKHOLD_OUTLINED __attribute__((noinline)) // few registers: what is inlined there spills the rest
#define WINKHOLD_RARE
#else
using Span = uint32_t;
/// Out of line where a call is shorter than what it replaces: only on 8-bit parts.
#define WINKHOLD_OUTLINED
/// Out of line where it runs seldom: only on parts with registers to spare.
#define WINKHOLD_RARE __attribute__((noinline)) // settled edges are rare: they shall not slow down the others
#endif

/// How far off a deadline can be: half of 24 bits, 8.4 s.
constexpr Span half_range_us = 0x800000;
/// What a stage answers when asked how long it can be left alone: for ever.
constexpr Span forever_us = 0xffffff;

/// The shorter of two times. Unit: us.
constexpr Span least_us(Span a_us, Span b_us) {
    return a_us < b_us ? a_us : b_us;
}

/// A moment as the stages keep it: the low 24 bits of the clock, which wrap after 16.8 s. Every stage disarms
/// its timer on expiry, so that it never asks about anything older.
struct Moment {
    Span count{0};
};

/// The clock's low 24 bits.
constexpr Moment moment(Micros now) {
    return Moment{static_cast<Span>(now.count_us)};
}
/// From `then` to `now`, across the wrap. Unit: us. Right for times below 16.8 s.
constexpr Span elapsed_us(Moment now, Moment then) {
    return static_cast<Span>((now.count - then.count) & 0xffffff);
}
/// `by_us` later, across the wrap.
constexpr Moment after(Moment start, Span by_us) {
    return Moment{static_cast<Span>(start.count + by_us)};
}
/// `deadline` is now or past; right if it is less than 8.4 s away either way.
constexpr bool reached(Moment now, Moment deadline) {
    return elapsed_us(now, deadline) < half_range_us;
}

/// A deadline that may be unset.
struct Timer {
    bool armed{false};
    Moment at{};
};

/// It is armed and its moment has come.
constexpr bool due(Timer timer, Moment now) {
    return timer.armed && reached(now, timer.at);
}

/// The first of several timers.
class Soonest {
public:
    /// Without any timer yet: nothing to wait for.
    constexpr explicit Soonest(Moment now) : now_(now) {}

    /// One that is overdue counts as due now.
    WINKHOLD_OUTLINED constexpr void add(Timer timer) {
        if (!timer.armed) return;
        Span wait_us = elapsed_us(timer.at, now_);
        if (wait_us >= half_range_us) wait_us = 0;
        if (wait_us < wait_us_) wait_us_ = wait_us;
    }
    /// How long until then; forever_us if none is armed.
    constexpr Span wait_us() const { return wait_us_; }
    /// The first of those added, `now` if it is overdue; unset if none was armed.
    constexpr Timer timer() const { return Timer{wait_us_ != forever_us, after(now_, wait_us_)}; }

private:
    Moment now_;
    Span wait_us_{forever_us};
};

/// An alarm `wait_us` from now; unset for forever_us.
constexpr Alarm alarm_in(Micros now, Span wait_us) {
    return Alarm{wait_us != forever_us, after(now, wait_us)};
}

namespace literals {
/// Microseconds. At most 5 s.
constexpr Span operator""_us(unsigned long long count) {
    return static_cast<Span>(count);
}
/// Milliseconds. At most 5 s.
constexpr Span operator""_ms(unsigned long long count) {
    return static_cast<Span>(count * 1000u);
}
/// Seconds. At most 5 s.
constexpr Span operator""_s(unsigned long long count) {
    return static_cast<Span>(count * 1000000u);
}
} // namespace literals

} // namespace core
} // namespace winkhold
