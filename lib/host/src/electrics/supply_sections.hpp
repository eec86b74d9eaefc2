/// [board], [battery] and [flasher_load] of one file, read over what is there.
#pragma once

#include "vehicle/vehicle_files.hpp"
#include "winkhold/host/electrics/supply.hpp"

namespace winkhold::host {

void read_supply_sections(const VehicleFile& file, SupplySections& sections);

} // namespace winkhold::host
