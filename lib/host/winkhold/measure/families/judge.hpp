/// What is asked of a decoder on imperfect lines, beside a plain hold.
#pragma once

#include "winkhold/measure/families/run.hpp"
#include "winkhold/measure/score/plain_hold.hpp"

#include <optional>

namespace winkhold::measure {

/// Dropouts a request that the mean over all families may come to, each weighing alike.
inline constexpr double most_mean_dropouts = 0.010;

/// A limit that a row breaks.
struct FamilyMiss {
    /// What is held to a target.
    enum class What { dropouts, false_shows, lone_hazards };
    std::size_t row;
    What what;
    double value; ///< a request; lone hazards: a count
    double limit;
};

/// What a run of families misses; see the targets above.
struct FamilyVerdict {
    std::vector<FamilyMiss> misses;      ///< row by row
    std::optional<double> mean_dropouts; ///< a request; none: not judged

    /// The mean over all families drops out more often than most_mean_dropouts.
    bool mean_is_over() const { return mean_dropouts && *mean_dropouts > most_mean_dropouts; }
    /// Every family and the mean are within their targets.
    bool good() const { return misses.empty() && !mean_is_over(); }
};

/// `decoder` beside `plain`, both indexes of the run's decoders. The mean is judged only of `all` families:
/// that of a few says nothing.
FamilyVerdict judge_families(const FamilyRun& run, std::size_t decoder, std::size_t plain, bool all);

} // namespace winkhold::measure
