/// `winkhold limits`: published limits and whether they are kept.
#pragma once

#include "winkhold/bike/limits/judge.hpp"

namespace winkhold::bike {

/// Its word in tables and JSON.
constexpr std::string_view name(Ruling ruling) {
    constexpr std::string_view names[] = {"kept", "broken", "not judged"};
    return names[static_cast<std::size_t>(ruling)];
}

/// For people: at most 80 columns. `title` names what was judged.
std::string limits_text(const Judgement& judgement, const std::string& title);

/// Schema winkhold.limits/2, documented in apps/winkhold/README.md. Ends with a newline.
std::string limits_json(const Judgement& judgement, const std::string& title);

} // namespace winkhold::bike
