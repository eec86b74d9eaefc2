/// The sweep: how dropouts, overlap and release trade against each other, and which value to choose.
#pragma once

#include "winkhold/base/progress.hpp"
#include "winkhold/base/statistics/summary.hpp"
#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/measure/sweep/reduce.hpp"
#include "winkhold/measure/waveform/scenario.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace winkhold::measure {

/// Values from `from_us` to `to_us` at most, every `step_us`.
struct Grid {
    TimeUs from_us{0};
    TimeUs to_us{0};
    TimeUs step_us{0};

    /// All of them, rising.
    std::vector<TimeUs> values() const;
};

/// "100ms:900ms:20ms", or one value. `what` names it in the error.
/// Throws InputError: not three times, zero step, end before start, more than 100,000 values.
Grid parse_grid(const std::string& text, const std::string& what);

/// What is swept, over which values, and what the choice must meet.
struct SweepPlan {
    core::Settings settings; ///< its rule says what is swept: fixed `hold`, paced `guard`
    Grid grid;
    std::int64_t trials{1'000};
    std::uint64_t seed{1};
    double target{1e-4}; ///< the dropout rate whose upper bound a choice must meet
    int threads{1};
};

/// The swept figures at one value.
struct CurvePoint {
    std::string label; ///< which rules, if not the swept ones
    core::HoldRule rule{core::HoldRule::fixed};
    TimeUs hold_us{0};
    TimeUs guard_us{0};
    std::int64_t dropouts{0};
    std::int64_t bikes_with_dropout{0};
    std::int64_t false_shows{0};
    std::int64_t missed{0};
    Summary overlap;
    Summary release;
    Summary acquire;
};

/// The least value of the grid whose upper bound meets the target, or why there is none.
struct Choice {
    std::optional<std::size_t> point; ///< index into Sweep::curve
    TimeUs exact_us{-1};              ///< least value off the grid that meets it too; -1: none
    std::string reason;
};

/// The curve and the choice.
struct Sweep {
    SweepPlan plan;
    bool population{false}; ///< then the bound is on bikes with any dropout, because dropouts cluster by bike
    std::int64_t flashes{0};
    std::int64_t bikes{0};
    std::vector<CurvePoint> curve;
    Choice choice;
    std::vector<CurvePoint> beside;  ///< other rules on the same trials
    std::optional<CurvePoint> bound; ///< clairvoyant; not known for a recording
    StillExample still_example;      ///< of the vehicle that rode
};

/// Responses of trials [0, plan.trials), in parallel; the same whatever the number of threads.
Responses run_trials(const Scenario& scenario, const SweepPlan& plan, const Progress& progress);

/// Sweeps synthetic rides. Throws InputError if the grid leaves the settings' range.
Sweep sweep_scenario(const Scenario& scenario, const SweepPlan& plan, const Progress& progress = {});

/// Sweeps one recording; what was asked for is inferred from its flashes, so release counts from the last
/// light.
/// Keeps its flashes, not its edges. Throws InputError from the source.
Sweep sweep_recording(EdgeSource& source, const SweepPlan& plan);

/// The curve's figures at the given values, in rising order. `responses` must be sorted.
std::vector<CurvePoint> curve_points(const Responses& responses, const core::Settings& settings,
                                     const std::vector<TimeUs>& values_us);

/// The least value of the curve whose upper bound meets the plan's target; says why if there is none.
Choice choose(const Sweep& sweep, const Responses& responses);

} // namespace winkhold::measure
