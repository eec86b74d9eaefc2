/// Text broken into lines at its spaces.
#pragma once

#include "winkhold/base/wings.hpp"

#include <string>
#include <string_view>

namespace winkhold::base {

/// Nothing printed is wider than this.
inline constexpr std::size_t text_columns = 80;

/// Characters, not bytes: code points of UTF-8.
std::size_t width_of(std::string_view text);

/// Words of `text` in lines of at most `columns`, each led by `lead`, the first one by `first`. A word wider
/// than a line goes on in the next one. Ends with a newline.
std::string wrapped(std::string_view first, std::string_view lead, std::string_view text,
                    std::size_t columns = text_columns);

} // namespace winkhold::base
