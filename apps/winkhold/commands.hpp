/// The subcommands: each adds its options to the program and a function that runs it.
#pragma once

#include <CLI/CLI.hpp>
#include <functional>

namespace winkhold::app {

/// Runs a parsed subcommand; returns the exit code: 0 fine, 1 findings. Throws host::InputError for 2.
using Run = std::function<int()>;

/// Each keeps its options in `run`, which the program calls if its subcommand was given.
CLI::App* add_simulate(CLI::App& program, Run& run);
CLI::App* add_decode(CLI::App& program, Run& run);
CLI::App* add_sweep(CLI::App& program, Run& run);
CLI::App* add_faults(CLI::App& program, Run& run);
CLI::App* add_soak(CLI::App& program, Run& run);
CLI::App* add_compare(CLI::App& program, Run& run);
CLI::App* add_worth(CLI::App& program, Run& run);
CLI::App* add_verify(CLI::App& program, Run& run);
CLI::App* add_inspect(CLI::App& program, Run& run);
CLI::App* add_fit(CLI::App& program, Run& run);
CLI::App* add_rules(CLI::App& program, Run& run);
CLI::App* add_sequence(CLI::App& program, Run& run);
CLI::App* add_electrics(CLI::App& program, Run& run);
CLI::App* add_new(CLI::App& program, Run& run);
CLI::App* add_wiring(CLI::App& program, Run& run);
CLI::App* add_handover(CLI::App& program, Run& run);

} // namespace winkhold::app
