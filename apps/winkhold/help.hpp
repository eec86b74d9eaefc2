/// What `--help` prints, never wider than 80 columns.
#pragma once

#include "command.hpp"

namespace winkhold::app {

std::string help_text(const Command& command);

/// Of the commands whose names begin with `word` ("prove"); of the whole program if that is empty.
std::string help_text(const std::vector<Command>& commands, std::string_view word);

} // namespace winkhold::app
