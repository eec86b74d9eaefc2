/// Reads one file of a rule book.
#pragma once

#include "winkhold/host/rules/rule_book.hpp"

#include <toml++/toml.h>

namespace winkhold::host {

/// What the file says by itself; kinds and places are not yet looked up. Throws InputError (file:line,
/// field).
Jurisdiction read_place(const std::string& path, const toml::table& root);

} // namespace winkhold::host
