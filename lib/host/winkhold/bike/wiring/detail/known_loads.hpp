/// What the electrics of a vehicle tell its wiring.
#pragma once

#include "winkhold/bike/electrics/electrics.hpp"
#include "winkhold/bike/wiring/check.hpp"

namespace winkhold::bike {

/// At the most volts. What is not known is left out.
Loads known_loads(const Electrics& electrics, const SupplySections& supply,
                  const std::optional<FrontEnd>& front_end);

/// What is a default in the electrics is left out here, too.
BoardFacts board_facts(const Vehicle& vehicle, const SupplySections& supply);

} // namespace winkhold::bike
