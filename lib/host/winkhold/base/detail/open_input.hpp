/// Opening what is read, and knowing later what that was, so that none of it is written over by what is made
/// from it.
#pragma once

#include "winkhold/base/wings.hpp"

#include <string>

namespace winkhold::base {

inline constexpr const char* nobody_writes =
    "is a pipe, and nobody has opened it to write within ten seconds";

/// A descriptor to read from, noted as one of this program's inputs by what it is, not by its name: links and
/// other ways to it make no difference. Below 0 with errno: ETIMEDOUT for a named pipe that nobody writes to.
int open_input(const std::string& path);

/// True if `path` leads to a file that was opened so, or to the one that is standard input.
bool was_read(const std::string& path);

} // namespace winkhold::base
