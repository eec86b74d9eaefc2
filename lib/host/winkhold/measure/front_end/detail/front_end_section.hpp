/// [front_end] of one file, read over what is there.
#pragma once

#include "winkhold/base/vehicle/detail/toml_fields.hpp"
#include "winkhold/measure/front_end/front_end.hpp"

namespace winkhold::measure {

void read_front_end(TomlFields& fields, FrontEnd& front_end);

} // namespace winkhold::measure
