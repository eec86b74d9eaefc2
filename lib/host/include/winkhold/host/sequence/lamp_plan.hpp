/// What a vehicle file says of its lamps and of how they are timed: enough to play them.
#pragma once

#include "winkhold/core/sequence.hpp"
#include "winkhold/host/lamps/lamps.hpp"

namespace winkhold::host {

/// Groups and timing that pass core::check() together.
struct LampPlan {
    std::string origin; ///< the file, for people
    Lamps lamps;
    core::SequenceSettings timing;

    /// The groups as the core wants them; they must outlive what plays them.
    std::vector<core::LampGroup> groups() const;
};

/// Reads [[lamps]] and [sequence] of a vehicle file and those it builds on. Without lamps it has none. Throws
/// InputError (file:line, field) for either.
LampPlan read_lamp_plan(const std::string& path);

/// The demo vehicle's plan, which the library carries along.
LampPlan demo_lamp_plan();

} // namespace winkhold::host
