/// Reads one file of limits.
#pragma once

#include "winkhold/base/wings.hpp"
#include "winkhold/bike/limits/limit_book.hpp"

#include <toml++/toml.h>

namespace winkhold::bike {

/// What the file says by itself; kinds and places are not yet looked up. Throws InputError (file:line,
/// field).
Jurisdiction read_place(const std::string& path, const toml::table& root);

} // namespace winkhold::bike
