/// Which limits of a place a bike's rides can show, and which somebody has to look at.
#pragma once

#include "winkhold/bike/lamps/lamps.hpp"
#include "winkhold/bike/limits/limit.hpp"

namespace winkhold::bike {

/// What a limit is to this bike.
enum class Concern {
    none,    ///< nobody has stated its condition, or it is about a fill and no lamps fill
    by_hand, ///< no bench can judge it, or none of [[lamps]] shows it: the factory's may
    judged,  ///< on simulated rides
};

/// Of this limit, with these lamps.
Concern concern_of(const Limit& limit, const Lamps& lamps);

/// "at least 180 mm", "at least 60 /min, at most 120 /min".
std::string bounds_text(const Limit& limit);

/// True if turn lamps light one after the other, or get brighter by steps.
bool has_fill(const Lamps& lamps);

} // namespace winkhold::bike
