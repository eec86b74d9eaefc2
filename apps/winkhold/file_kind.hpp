/// A vehicle file where a recording is expected, or the reverse: a slip that deserves a better answer than
/// what the reader of the other format makes of it.
#pragma once

#include "command.hpp"

namespace winkhold::app {

/// After a command has refused its input: if a file that it was to read is plainly of the other kind, says so
/// and what to do; else empty. Looks only now, so that a command opens its files once.
std::string tell_other_kind(const Command& command);

} // namespace winkhold::app
