/// Names that the reports of inspect and fit share.
#pragma once

#include "winkhold/taps/inspect/inspect.hpp"

#include <string_view>

namespace winkhold::taps {

constexpr std::string_view name(LineKind kind) {
    constexpr std::string_view names[] = {"never-lit", "always-lit",   "chopped-on",
                                          "restless",  "single-flash", "flashing"};
    return names[static_cast<std::size_t>(kind)];
}
constexpr std::string_view name(Polarity polarity) {
    constexpr std::string_view names[] = {"high-is-lit", "low-is-lit", "unknown"};
    return names[static_cast<std::size_t>(polarity)];
}
constexpr std::string_view name(core::Lines::Tap tap) {
    switch (tap) {
    case core::Lines::left:
        return "left";
    case core::Lines::right:
        return "right";
    case core::Lines::brake:
        return "brake";
    case core::Lines::tail:
        return "tail";
    case core::Lines::supply:
        break;
    }
    return "supply";
}

} // namespace winkhold::taps
