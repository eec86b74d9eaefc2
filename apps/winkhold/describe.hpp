/// Pieces of a command's description in words: for its help and its manual page.
#pragma once

#include "command.hpp"

namespace winkhold::app {

/// "winkhold prove faults [OPTIONS] [ID ...]".
std::string usage_of(const Command& command);

/// Headings of the options in the order in which they were begun, the first one, "", first.
std::vector<std::string> sections_of(const Command& command);

/// "--hold TIME".
std::string label_of(const Option& option);

/// "(default: 5ms)", or nothing.
std::string default_of(const Option& option);

/// What it is for, with its default, and the option that it needs.
std::string meaning_of(const Option& option);

/// A command line as it can be pasted into a shell, in lines of at most `columns` where there are options to
/// break it before.
std::vector<std::string> shell_lines(const std::string& line, std::size_t columns);

} // namespace winkhold::app
