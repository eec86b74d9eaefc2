/// [decoder] of one file, read over what is there.
#pragma once

#include "winkhold/base/vehicle/detail/toml_fields.hpp"
#include "winkhold/core/settings.hpp"

namespace winkhold::base {

void read_decoder(TomlFields& fields, core::Settings& settings);

} // namespace winkhold::base
