/// Values that no usual part has: a slip of the unit or of the decimal point.
#pragma once

#include "winkhold/bike/electrics/electrics.hpp"

#include <set>
#include <string>

namespace winkhold::bike {

/// Fields outside of what real parts have, and those that contradict another one, become findings. Returns
/// their names; what rests on them can't be judged.
std::set<std::string> judge_plausible(const Vehicle& vehicle, const std::optional<FrontEnd>& front_end,
                                      const SupplySections& supply, const Lamps& lamps, Checks& checks);

} // namespace winkhold::bike
