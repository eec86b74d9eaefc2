/// Names that commands and options once had.
#pragma once

#include "winkhold/base/error.hpp"

#include <span>
#include <string>
#include <string_view>

namespace winkhold::app {

struct NameNow {
    std::string_view old;
    std::string_view now;
};

inline constexpr NameNow old_commands[] = {
    {"rules", "limits"},          {"handover", "checklist"}, {"faults", "prove faults"},
    {"compare", "prove compare"}, {"worth", "prove worth"},  {"soak", "prove soak"},
};
inline constexpr NameNow old_options[] = {{"--rules-folder", "--limits-folder"}};

/// Throws host::InputError with the new name if `word` is an old one.
inline void refuse_old_name(std::string_view word, std::span<const NameNow> names) {
    for (const NameNow& name : names)
        if (name.old == word)
            throw host::InputError("'" + std::string(word) + "' is now '" + std::string(name.now) + "'");
}

} // namespace winkhold::app
