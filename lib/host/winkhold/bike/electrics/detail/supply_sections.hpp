/// [board], [battery] and [flasher_load] of a vehicle.
#pragma once

#include "winkhold/base/vehicle/vehicle.hpp"
#include "winkhold/bike/electrics/supply.hpp"

namespace winkhold::bike {

SupplySections supply_sections_of(const Vehicle& vehicle);

} // namespace winkhold::bike
