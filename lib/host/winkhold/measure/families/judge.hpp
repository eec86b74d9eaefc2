/// No family may be worse under the default decoder than under a plain hold.
#pragma once

#include "winkhold/measure/families/run.hpp"

namespace winkhold::measure {

/// What a row may cost beside the plain hold, a request.
inline constexpr double more_dropouts = 0.05; ///< for each kind mixed in
inline constexpr double more_false_shows = 0.01;

/// A limit that a row breaks.
struct FamilyMiss {
    enum class What { dropouts, false_shows, lone_hazards };
    std::size_t row;
    What what;
    double value; ///< a request; lone hazards: a count
    double limit;
};

/// What `decoder` misses beside `plain`, both indexes of the run's decoders: row by row.
std::vector<FamilyMiss> judge_families(const FamilyRun& run, std::size_t decoder, std::size_t plain);

} // namespace winkhold::measure
