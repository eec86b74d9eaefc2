/// [front_end] of one file, read over what is there.
#pragma once

#include "vehicle/toml_fields.hpp"
#include "winkhold/host/electrics/front_end.hpp"

namespace winkhold::host {

void read_front_end(TomlFields& fields, FrontEnd& front_end);

} // namespace winkhold::host
