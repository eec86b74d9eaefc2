/// The manual page, winkhold(1).
#pragma once

#include "command.hpp"

namespace winkhold::app {

/// As roff with the macros of man(7). The same commands and version give the same bytes.
std::string man_page(const std::vector<Command>& commands, const std::string& version);

} // namespace winkhold::app
