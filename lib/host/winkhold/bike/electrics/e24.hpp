/// Preferred values.
#pragma once

#include "winkhold/base/wings.hpp"

namespace winkhold::bike {

/// The least E24 value that is not below `ohm` (IEC 60063; from 1 ohm). Within a millionth of a value is that
/// value.
double e24_up(double ohm);
/// The largest E24 value that is not above `ohm`.
double e24_down(double ohm);

} // namespace winkhold::bike
