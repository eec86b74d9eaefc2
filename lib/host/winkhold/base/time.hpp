/// Time on the host, and the only place where std::chrono and text meet the core's clock.
#pragma once

#include "winkhold/base/wings.hpp"
#include "winkhold/core/micros.hpp"

#include <chrono>
#include <cstdint>
#include <limits>
#include <string>
#include <string_view>

namespace winkhold::base {

/// Moments and durations on the host. Unit: us, 64 bits, so that no recording wraps.
using TimeUs = std::int64_t;

/// Latest moment a recording may name: ten years.
inline constexpr TimeUs latest_us = 315'576'000'000'000;

/// Beyond every moment, and far enough from overflow to add any duration.
inline constexpr TimeUs never_us = std::numeric_limits<TimeUs>::max() / 4;

/// The same moment on the core's wrapping clock.
constexpr core::Micros to_core(TimeUs t_us) {
    return {static_cast<std::uint32_t>(t_us)};
}

/// A duration of the standard library as a plain number. Unit: us.
constexpr TimeUs to_us(std::chrono::microseconds duration) {
    return duration.count();
}

/// Reads "40ms", "1.5s", "250us" or "0". `what` names the value in the error.
/// Throws InputError if the text is no duration, has no unit, or is finer than 1 us.
TimeUs parse_duration_us(std::string_view text, std::string_view what);

/// "40 ms", "1.5 s", "250 us": shortest form for people.
std::string format_duration(TimeUs duration_us);

} // namespace winkhold::base
