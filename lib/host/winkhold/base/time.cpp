#include "winkhold/base/time.hpp"

#include "winkhold/base/error.hpp"

#include <charconv>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::base {

TimeUs parse_duration_us(std::string_view text, std::string_view what) {
    const auto refuse = [&](std::string_view why) {
        throw InputError(
            fmt::format("{} \"{}\": {}; write a time like 250us, 40ms or 1.5s", what, text, why));
    };
    double value = 0;
    const char* const end = text.data() + text.size();
    const auto [rest, error] = std::from_chars(text.data(), end, value);
    if (error != std::errc{} || !std::isfinite(value)) refuse("not a time");
    const std::string_view unit(rest, static_cast<std::size_t>(end - rest));
    double scale = 0;
    if (unit == "us") scale = 1;
    if (unit == "ms") scale = 1e3;
    if (unit == "s") scale = 1e6;
    if (scale == 0 && value != 0) refuse(unit.empty() ? "the unit is missing" : "unknown unit");
    if (scale == 0 && !unit.empty()) refuse("unknown unit");
    const double us = value * scale;
    if (us < 0) refuse("a time can't be negative");
    if (us > static_cast<double>(latest_us)) refuse("out of range");
    const double whole = std::round(us);
    if (std::abs(us - whole) > 1e-3) refuse("finer than 1 us");
    return static_cast<TimeUs>(whole);
}

std::string format_duration(TimeUs duration_us) {
    if (duration_us % 1'000 != 0) {
        return duration_us < 1'000 ? fmt::format("{} us", duration_us)
                                   : fmt::format("{:g} ms", static_cast<double>(duration_us) / 1e3);
    }
    if (duration_us < 10'000'000) return fmt::format("{} ms", duration_us / 1'000);
    return fmt::format("{:g} s", static_cast<double>(duration_us) / 1e6);
}

} // namespace winkhold::base
