/// Decoders on rides of every family, and of mixtures of two.
#pragma once

#include "winkhold/base/progress.hpp"
#include "winkhold/measure/families/family.hpp"
#include "winkhold/measure/waveform/ride.hpp"

#include <cstdint>

namespace winkhold::measure {

/// What one decoder made of some rides. Dropouts and false shows count as in score/figures.hpp.
struct FamilyFigures {
    std::int64_t requests{0};
    std::int64_t dropouts{0};
    TimeUs away_us{0}; ///< from a dropout until the side is shown again, or its request ends; all together
    std::int64_t false_shows{0};
    /// Times that a hazard shows one side alone for longer than the handover window of the defaults, once
    /// both lines have risen.
    std::int64_t lone_hazards{0};

    /// How often a request; 0 if there were none.
    double per_request(std::int64_t count) const {
        return requests > 0 ? static_cast<double>(count) / static_cast<double>(requests) : 0;
    }
    /// Dropouts a request.
    double dropout_rate() const { return per_request(dropouts); }
    /// False shows a request.
    double false_show_rate() const { return per_request(false_shows); }
    /// Adds what other rides gave.
    FamilyFigures& operator+=(const FamilyFigures& more);
};

/// How many rides of each form, and from which seed.
struct FamilyPlan {
    std::int64_t rides{24}; ///< for each variant; flashers take turns: restart, free-running, whole-cycle
    std::int64_t mixed_rides{24}; ///< for each two families that can be mixed, their variants in turn
    std::uint64_t seed{1};
    int threads{1};
};

/// One family or a mixture of two; figures by decoder.
struct FamilyRow {
    std::vector<std::size_t> families; ///< one or two indexes
    std::vector<FamilyFigures> all;
    std::vector<std::vector<FamilyFigures>> variants; ///< [variant][decoder]; empty for a mixture
};

/// Figures of all families, and of mixtures of two.
struct FamilyRun {
    std::vector<Family> families;
    std::vector<FamilyRow> rows; ///< each family, then the mixtures, both in order
};

/// The same whatever the number of threads; progress counts pieces of unlike size.
FamilyRun run_families(std::vector<Family> families, const std::vector<core::Settings>& decoders,
                       const FamilyPlan& plan, const Progress& progress = {});

/// Dropouts a request, the mean over the families (not the mixtures), each weighing alike.
double mean_dropout_rate(const FamilyRun& run, std::size_t decoder);

/// Adds one ride's figures.
void add_ride(const Ride& ride, const core::Settings& settings, FamilyFigures& figures);

} // namespace winkhold::measure
