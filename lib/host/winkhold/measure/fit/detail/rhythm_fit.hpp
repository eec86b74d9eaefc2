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
    int place{0}; ///< one more than that of the phase ahead of it, in one burst
};

/// What reading adds to each phase by itself. Unit: us.
struct ReadingError {
    double variance{0};    ///< us^2
    double on_short_us{0}; ///< a chopped light may read so much too short, and the dark too long
};

/// Weighted least squares in relative residuals, repeated until the weights stand still (they depend on the
/// means). Intervals: Student's t for means and drift, chi-square for the jitter, both with as many degrees
/// of freedom as phases exceed parameters. Phases further off than four robust deviations (MAD) count as odd,
/// and their neighbours with them: an edge in the wrong place spoils both. What the reading may leave out
/// widens the intervals of on and dark time and of the share lit. None for fewer than one on time, two dark
/// times, or without a degree of freedom.
std::optional<RhythmFit> fit_rhythm(const std::vector<SeenPhase>& phases, const ReadingError& reading);

/// A flasher may keep its beat better than its lights: then what is short in one phase is long in the next
/// one, and the cycles, from rise to rise, say more of the period than the phases do. If they scatter by less
/// than two thirds of what independent phases would, the period is their mean, without those further off than
/// four robust deviations, and the dark time what the light leaves of it. Needs eight cycles.
void count_beats(RhythmFit& fit, std::vector<double> cycles_us);

/// The light may be so much longer or shorter than it reads, and the dark the other way round. Unit: us.
void widen_lit(RhythmFit& fit, double by_us);

} // namespace winkhold::measure
