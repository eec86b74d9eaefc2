/// A soak for people and for programs.
#pragma once

#include "winkhold/measure/soak/soak.hpp"

#include <string>

namespace winkhold::measure {

/// Neither depends on threads, time or how often the run was resumed.
std::string soak_text(const SoakPlan& plan, const SoakTally& tally);
/// "schema":"winkhold.soak/1", see apps/winkhold/README.md.
std::string soak_json(const SoakPlan& plan, const SoakTally& tally);

/// One ride: what was drawn, what was asked and answered, and what went wrong.
std::string soak_ride_text(const SoakPlan& plan, std::int64_t ride, const SoakRun& run);

} // namespace winkhold::measure
