/// Text -> TOML, with words for the slips that people make.
#pragma once

#include "winkhold/base/error.hpp"

#include <string>
#include <string_view>
#include <toml++/toml.h>

namespace winkhold::base {

/// A file's bytes, without parsing them. Throws InputError: missing, a folder, a device, over 1 MiB.
std::string read_toml_text(const std::string& path);
/// Parses a file. Throws InputError as above, and if it is not valid TOML.
toml::table parse_toml(const std::string& path);
/// The same for a text at hand; `path` names it in messages.
toml::table parse_toml_text(std::string_view text, const std::string& path);

} // namespace winkhold::base
