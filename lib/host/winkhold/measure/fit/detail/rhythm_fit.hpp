/// On and dark times of one rhythm, how they scatter and drift.
#pragma once

#include "winkhold/measure/fit/fit.hpp"

#include <vector>

namespace winkhold::measure {

/// A complete bright or dark phase within a burst.
struct SeenPhase {
    bool lit;
    double at_min; ///< when its cycle began, from the ride's start
    double us;
};

/// What reading adds to each phase by itself. Unit: us.
struct ReadingError {
    double variance{0};    ///< us^2
    double on_short_us{0}; ///< a chopped light reads this much too short on average, the dark too long
};

/// Weighted least squares in relative residuals, repeated until the weights stand still (they depend on the
/// means). Intervals: Student's t for means and drift, chi-square for the jitter, both with as many degrees
/// of freedom as phases exceed parameters. Phases further off than six robust deviations (MAD) count as odd.
/// None for fewer than one on time, two dark times, or without a degree of freedom.
std::optional<RhythmFit> fit_rhythm(const std::vector<SeenPhase>& phases, const ReadingError& reading);

} // namespace winkhold::measure
