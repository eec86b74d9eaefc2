/// The commands, each in a file of its own.
#pragma once

#include "command.hpp"

namespace winkhold::app {

Command new_command();
Command inspect_command();
Command fit_command();
Command decode_command();
Command sweep_command();
Command simulate_command();
Command sequence_command();
Command limits_command();
Command electrics_command();
Command wiring_command();
Command checklist_command();
Command pack_command();
Command live_command();
Command verify_command();
Command prove_faults_command();
Command prove_families_command();
Command prove_compare_command();
Command prove_worth_command();
Command prove_soak_command();

/// All of them, in the order in which help lists them.
std::vector<Command> all_commands();

/// The one that the first words name, and the words that follow. Throws host::InputError: no such command,
/// perhaps with the name that was meant or that it has now.
struct Chosen {
    Command command;
    std::vector<std::string> words;
};
Chosen choose_command(std::vector<Command> commands, const std::vector<std::string>& words);

} // namespace winkhold::app
