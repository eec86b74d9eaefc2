/// Numbers as reports and targets write them.
#pragma once

#include "winkhold/base/time.hpp"

#include <fmt/format.h>
#include <string>
#include <utility>

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

/// Two numbers as short_number() writes them, with as many digits as it takes to tell them apart.
inline std::pair<std::string, std::string> told_apart(double one, double other) {
    std::pair<std::string, std::string> texts{short_number(one), short_number(other)};
    for (int digits = 4; one != other && texts.first == texts.second && digits <= 12; ++digits)
        texts = {fmt::format("{:.{}g}", one, digits), fmt::format("{:.{}g}", other, digits)};
    return texts;
}

} // namespace winkhold::base
