/// On and dark times of one rhythm, how they scatter and drift.
#pragma once

#include "winkhold/host/fit/estimate.hpp"

#include <cstdint>
#include <optional>
#include <vector>

namespace winkhold::host {

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

/// The model, as in a scenario: a phase lasts m (1 + drift t)(1 + sigma N), m its mean, t from the ride's
/// start. Means hold at `at_min`, the middle of the phases, where they don't depend on the drift.
struct RhythmFit {
    std::int64_t on_count{0};
    std::int64_t dark_count{0};
    std::int64_t odd{0}; ///< phases that fit no rhythm, left out
    double at_min{0};
    Estimate on_us, dark_us, period_us;
    Estimate rate_per_min, duty_percent;
    Estimate jitter_percent;
    Estimate drift_percent_per_min; ///< at `at_min`; the widest there is (-100, 100) if it can't be told
    bool drifts{false};             ///< sure enough (99 %) to be part of the scenario
};

/// Weighted least squares in relative residuals, repeated until the weights stand still (they depend on the
/// means). Intervals: Student's t for means and drift, chi-square for the jitter, both with as many degrees
/// of freedom as phases exceed parameters. Phases further off than six robust deviations (MAD) count as odd.
/// None for fewer than one on time, two dark times, or without a degree of freedom.
std::optional<RhythmFit> fit_rhythm(const std::vector<SeenPhase>& phases, const ReadingError& reading);

} // namespace winkhold::host
