/// Families of imperfect lines: what bikes do to their turn lines, each in several forms.
#pragma once

#include "winkhold/measure/waveform/scenario.hpp"

#include <optional>
#include <string>
#include <vector>

namespace winkhold::measure {

/// A kind of imperfect lines: the same scenario in several forms.
struct Family {
    std::string name;              ///< its file's, without .toml
    std::string title;             ///< plain words
    Vehicle vehicle;               ///< its file
    std::vector<Variant> variants; ///< at least one; all count alike
};

/// The families that are carried along if `folder` is empty; else every .toml file of it that has a
/// `[family]` section with a title, by name; with `names`, only those. Throws InputError naming file, line
/// and field; also for: no such folder, no family in it, a name that is not there.
std::vector<Family> read_families(const std::string& folder, const std::vector<std::string>& names);

/// Both at once: the second one's sections laid over the first one's scenario; breaks and strays add up.
/// None if both give one field, like a second rhythm.
std::optional<Scenario> mixture(const Family& first, std::size_t first_variant, const Family& second,
                                std::size_t second_variant);

} // namespace winkhold::measure
