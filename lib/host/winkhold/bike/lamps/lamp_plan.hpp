/// What a vehicle file says of its lamps and of how they are timed: enough to play them.
#pragma once

#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/bike/lamps/lamps.hpp"
#include "winkhold/core/sequence.hpp"

namespace winkhold::bike {

/// Groups and timing that pass core::check() together.
struct LampPlan {
    std::string origin; ///< the file, for people
    Lamps lamps;
    core::SequenceSettings timing;
    StillExample still_example;          ///< of the whole file
    std::vector<std::string> warnings{}; ///< lamp_warnings()

    /// The groups of these names alone, in the order of the file; all for no names. Throws InputError for a
    /// name that there is none of.
    LampPlan only(const std::vector<std::string>& names) const;
    /// The groups as the core wants them; they must outlive what plays them.
    std::vector<core::LampGroup> groups() const;
};

/// [[lamps]] and [sequence] of a vehicle. Without lamps it has none. Throws InputError (file:line, field) for
/// either.
LampPlan lamp_plan_of(const Vehicle& vehicle);

} // namespace winkhold::bike
