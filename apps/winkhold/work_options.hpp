/// How much work, on how many threads, from which seed; and how far it has come.
#pragma once

#include "command.hpp"

#include "winkhold/base/progress.hpp"

namespace winkhold::app {

/// `--threads`; all cores if it isn't given.
class Threads {
public:
    void add_to(Command& command);
    int count() const;

private:
    int threads_{0};
};

/// `whose` leads the help where the option is for some inputs only: "scenario: ".
void add_seed(Command& command, std::uint64_t& seed, const std::string& whose = "");
/// Which of a seed's rides.
void add_trial(Command& command, std::uint64_t& trial, const std::string& whose = "");
/// `--flashes`, at least so many `of_what`.
void add_flashes(Command& command, std::int64_t& flashes, std::int64_t most, const std::string& of_what);
/// Rides with seeds from 1 on, under an option of the given name.
void add_fault_rides(Command& command, const std::string& name, std::uint64_t& seeds);

/// Told on standard error if that is a terminal: "12 of 81 cells".
host::Progress progress_of(const char* what);

} // namespace winkhold::app
