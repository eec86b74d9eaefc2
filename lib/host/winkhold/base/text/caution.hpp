/// What stands under every report.
#pragma once

#include "winkhold/base/wings.hpp"

#include <string>
#include <string_view>

namespace winkhold::base {

inline constexpr std::string_view caution =
    "Bench figures, no legal advice: never tune while riding, keep the factory\n"
    "tell-tales, follow local rules, have safety wiring checked by someone licensed.\n";

/// The caution on one line, without its newline.
std::string caution_line();

} // namespace winkhold::base
