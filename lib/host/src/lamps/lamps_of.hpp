/// [[lamps]] of a vehicle that has been read already.
#pragma once

#include "vehicle/vehicle_files.hpp"
#include "winkhold/host/lamps/lamps.hpp"

namespace winkhold::host {

/// As read_lamps().
Lamps lamps_of(const VehicleFiles& vehicle);

} // namespace winkhold::host
