/// Text files of somebody's own hand, whole.
#pragma once

#include "winkhold/base/error.hpp"

#include <string>

namespace winkhold::base {

/// The bytes of a file, opened once. `what` says what it should be: "a scenario or settings file". Throws
/// InputError: no such file, a folder, a device, a pipe that nobody writes to, larger than `most_bytes`.
std::string read_small_file(const std::string& path, std::size_t most_bytes, const std::string& what);

} // namespace winkhold::base
