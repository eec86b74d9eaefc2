/// A screen as data: rows of text with a look, for any terminal and for tests without one.
#pragma once

#include "winkhold/base/wings.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace winkhold::live {

/// How a piece of text looks; without colour the words have to do.
enum class Look : std::uint8_t { plain, faint, strong, lit, good, trouble, chosen };

/// Text of one look.
struct Piece {
    std::string text;
    Look look{Look::plain};
};

/// Rows from the top, each no wider than the screen.
using Picture = std::vector<std::vector<Piece>>;

/// What the terminal can do.
struct ScreenSize {
    std::size_t columns{80};
    std::size_t rows{24};
    bool utf8{true};
};

} // namespace winkhold::live
