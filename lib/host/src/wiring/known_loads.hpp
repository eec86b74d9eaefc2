/// What the electrics of a vehicle tell its wiring.
#pragma once

#include "winkhold/host/electrics/electrics.hpp"
#include "winkhold/host/wiring/check.hpp"

namespace winkhold::host {

/// At the most volts. What is not known is left out.
Loads known_loads(const Electrics& electrics, const SupplySections& supply);

} // namespace winkhold::host
