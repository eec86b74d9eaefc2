/// What a shell has to know to complete command lines of this program.
#pragma once

#include "command.hpp"

#include <array>

namespace winkhold::app {

inline constexpr std::array<std::string_view, 3> shells{"bash", "zsh", "fish"};

/// A script for `shell`, one of `shells`. It completes commands, the options of the command typed so far,
/// words of options that take words, and files where a file is wanted.
std::string completion(const std::vector<Command>& commands, std::string_view shell);

} // namespace winkhold::app
