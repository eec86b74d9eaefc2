/// `winkhold rules`: published limits and whether they are kept.
#pragma once

#include "winkhold/host/rules/judge.hpp"

namespace winkhold::host {

constexpr std::string_view name(Ruling ruling) {
    constexpr std::string_view names[] = {"kept", "broken", "not judged"};
    return names[static_cast<std::size_t>(ruling)];
}

/// For people: at most 80 columns. `title` names what was judged.
std::string rules_text(const Judgement& judgement, const std::string& title);

/// Schema winkhold.rules/1, documented in the README. Ends with a newline.
std::string rules_json(const Judgement& judgement, const std::string& title);

} // namespace winkhold::host
