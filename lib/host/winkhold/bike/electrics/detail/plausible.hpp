/// Figures of the file that can't be right, as findings.
#pragma once

#include "winkhold/bike/electrics/electrics.hpp"

#include <set>
#include <string>

namespace winkhold::bike {

/// Fields outside of what real bikes and parts have (those of [[wires]] are for `winkhold wiring`), and an
/// LED's voltage that contradicts its colour. Returns the names of the contradicting ones; what rests on them
/// can't be judged either.
std::set<std::string> judge_plausible(const Vehicle& vehicle, const Lamps& lamps, Checks& checks);

} // namespace winkhold::bike
