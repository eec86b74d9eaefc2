/// Text from files and folders made fit for any output.
#pragma once

#include "winkhold/base/wings.hpp"

#include <cstdint>
#include <string>
#include <string_view>

namespace winkhold::base {

/// Valid UTF-8 on one line, without what XML forbids and what a terminal acts on: control characters (C0, DEL
/// and C1, U+009B among them), line and paragraph separators, marks that turn the direction of writing.
/// Blanks of any kind become a space, everything else that doesn't fit a '?'.
std::string legible(std::string_view text);

/// Beyond Unicode: a byte that begins no character of UTF-8.
inline constexpr std::uint32_t no_utf8 = 0x110000;

/// The same with what `instead` makes of each character that doesn't fit, blanks other than the space among
/// them.
std::string with_unfit(std::string_view text, std::string (*instead)(std::uint32_t code));

} // namespace winkhold::base
