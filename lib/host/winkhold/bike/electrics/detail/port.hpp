/// Which port of the controller a pin belongs to.
#pragma once

#include "winkhold/base/wings.hpp"

#include <string>
#include <string_view>

namespace winkhold::bike {

/// "PB" for the chip's own name (PB5) or what small ATmega328P boards print (D8 to D13; A0 and D0 are PC and
/// PD), in capitals or not. Empty for any other name.
std::string port_of(std::string_view pin);

} // namespace winkhold::bike
