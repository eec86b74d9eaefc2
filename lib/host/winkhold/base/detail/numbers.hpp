/// Numbers as reports and targets write them.
#pragma once

#include "winkhold/base/time.hpp"

#include <fmt/format.h>

namespace winkhold::base {

inline double ms(double us) {
    return us / 1e3;
}
inline double ms(TimeUs us) {
    return ms(static_cast<double>(us));
}

inline double per_million(std::int64_t count, std::int64_t of) {
    return of == 0 ? 0 : 1e6 * static_cast<double>(count) / static_cast<double>(of);
}

/// Three digits, but whole numbers whole.
inline std::string short_number(double number) {
    return number >= 100 ? fmt::format("{:.0f}", number) : fmt::format("{:.3g}", number);
}

} // namespace winkhold::base
