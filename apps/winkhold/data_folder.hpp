/// The data folder that is installed with the program: scenarios, vehicles, faults, families, limits,
/// recordings.
#pragma once

#include "command.hpp"

namespace winkhold::app {

/// Names in data/, like "data/scenarios/nominal.toml", are the same wherever the program runs: what isn't
/// there in the present folder is taken from the installed one. Only what a command reads and leaves as it
/// is.
void find_data(const Command& command);

} // namespace winkhold::app
