/// From words on the command line to a command's values.
#pragma once

#include "command.hpp"

#include "winkhold/base/error.hpp"

namespace winkhold::app {

/// The command line itself is wrong: its message ends with the word that was meant ("did you mean 'hold'?"),
/// else with where to read more.
class UsageError : public host::InputError {
public:
    UsageError(const std::string& what, const std::string& command)
        : InputError(what.ends_with('?')
                         ? what
                         : what + "; see winkhold " + (command.empty() ? "" : command + " ") + "--help") {}
};

/// Sets the command's values from `words`, which follow its name; false if they ask for its help. Throws
/// UsageError (unknown or misspelt option, value missing, no number, out of range, options that exclude or
/// need each other) and host::InputError for an option that has another name now.
bool read_words(const Command& command, const std::vector<std::string>& words);

} // namespace winkhold::app
