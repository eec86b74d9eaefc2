/// Which fields of the vehicle a reading rests on.
#pragma once

#include "winkhold/bike/limits/judge.hpp"

namespace winkhold::bike {

/// Of the bike: fields of the simulated flasher and lines, and of the lamps that are looked at, which nobody
/// has given, or the example has. A clause for people; empty if all are known.
std::string why_bike_not_known(const Limit& limit, const Lamps& lamps, const Basis& basis);

/// Of where it is ridden and what it is: does this limit hold for it? Empty if that is known.
std::string why_limit_not_known(const Limit& limit, const Basis& basis);

/// True if some of these lamps are still the example's: what they show is nothing of this bike's.
bool has_example_lamps(const Lamps& lamps, const Vehicle& bike);

} // namespace winkhold::bike
