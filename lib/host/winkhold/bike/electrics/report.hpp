/// `winkhold electrics`: currents, heat, thresholds, and what was found.
#pragma once

#include "winkhold/bike/electrics/electrics.hpp"

namespace winkhold::bike {

/// For people; findings first.
std::string electrics_text(const Electrics& electrics);

/// Schema winkhold.electrics/1, documented in apps/winkhold/README.md. Ends with a newline.
std::string electrics_json(const Electrics& electrics);

/// Its word in tables and JSON.
constexpr std::string_view name(CheckVerdict verdict) {
    constexpr std::string_view names[] = {"passed", "finding", "not-judged"};
    return names[static_cast<std::size_t>(verdict)];
}
/// Its words in tables and JSON.
constexpr std::string_view name(Bound bound) {
    return bound == Bound::at_most ? "at-most" : "at-least";
}
/// Its words in tables and JSON.
constexpr std::string_view name(LampDriver driver) {
    constexpr std::string_view names[] = {"pin", "transistor", "shift-register"};
    return names[static_cast<std::size_t>(driver)];
}

} // namespace winkhold::bike
