/// Text from files and folders made fit for any output.
#pragma once

#include "winkhold/base/wings.hpp"

#include <string>
#include <string_view>

namespace winkhold::base {

/// Valid UTF-8 on one line, without control characters and what XML forbids: blanks of any kind become a
/// space, everything else that doesn't fit a '?'.
std::string legible(std::string_view text);

} // namespace winkhold::base
