/// Flash by flash: what of each cycle can be trusted, and which rhythm it belongs to.
#pragma once

#include "winkhold/measure/fit/detail/bursts.hpp"
#include "winkhold/measure/fit/detail/rhythm_fit.hpp"

#include <optional>

namespace winkhold::measure {

/// A flash and the dark gap after it, as far as both are whole: a burst's first light may have been joined
/// midway or be slow to end, its last one cut.
struct Cycle {
    bool begins_burst{false};
    int number{0}; ///< one more than its neighbour's in the same burst; two more than the burst's before
    double at_min{0};
    std::optional<double> on_us;
    std::optional<double> dark_us;
};

/// How much a light must be to count.
enum class Count {
    sure, ///< neither it nor its gap is spoilt by noise
    any,
};

/// Gaps that are two with a flash left out between are none.
std::vector<Cycle> cycles_of(const std::vector<Burst>& bursts, const BurstGaps& gaps, TimeUs start_us,
                             Count count);

std::vector<SeenPhase> phases_of(const std::vector<Cycle>& cycles);

/// The slower and the quicker rhythm, and how they take turns.
struct TwoRhythms {
    std::vector<Cycle> slow, quick;
    std::int64_t stretches{1};
    std::vector<int> groups; ///< flashes up to each slow dark phase, since the last one or the burst's begin

    /// The size that most groups have, two or more; 0 if there is none.
    int usual_group() const;
};

/// Two rhythms if the periods, else the on times, else the dark gaps fall into two groups of four or more
/// with a factor of at least 1.25 between, neither of them smeared, unless the longer gaps merely have a
/// flash left out.
std::optional<TwoRhythms> two_rhythms(const std::vector<Cycle>& cycles);

} // namespace winkhold::measure
