/// What somebody may have meant who typed a word that isn't known.
#pragma once

#include "winkhold/base/wings.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace winkhold::base {

/// The known word that is the fewest changes away (a letter more, less or another, or two neighbours
/// swapped); of several the first. None if even that takes more changes than a third of the word's letters
/// and one more, or if nothing of the word would be left.
std::optional<std::string_view> nearest(std::string_view word, std::span<const std::string_view> known);

/// "; did you mean 'hold'?", to end a refusal with; empty if nothing known is near.
std::string did_you_mean(std::string_view word, std::span<const std::string_view> known);

} // namespace winkhold::base
