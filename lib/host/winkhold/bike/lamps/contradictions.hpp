/// What a file says of its lamps in two ways that don't agree: names against fields, left against right.
#pragma once

#include "winkhold/bike/lamps/lamps.hpp"

namespace winkhold::bike {

/// One of them.
struct LampContradiction {
    /// What doesn't agree.
    enum class Kind {
        name,  ///< a group's name against its side, place or job
        sides, ///< a group and its like on the other side are not alike
    };
    Kind kind;
    std::size_t group; ///< whose, in the order of the file
    std::string where; ///< file:line
    std::string text;  ///< which, and what to do
};

/// Somebody may mean each of them, so they are warnings. In the order of the file.
std::vector<LampContradiction> contradictions_of(const Lamps& lamps);
/// The same as lines for people: "file:line: which, and what to do".
std::vector<std::string> lamp_warnings(const Lamps& lamps);

/// The words of a name in small letters; what is neither letter nor digit parts them.
std::vector<std::string> name_words(std::string_view name);

/// What a name says in plain words: left or right, front or rear, what for. Absent: nothing, or several.
struct Said {
    std::optional<core::Indication> side{};
    std::optional<LampEnd> at{};
    std::optional<core::Job> job{};
};
/// From those words alone.
Said said_by_name(std::string_view name);

/// "left", "right" or "both".
std::string_view side_name(core::Indication side);
/// "front" or "rear".
std::string_view end_name(LampEnd end);

} // namespace winkhold::bike
