/// What a soak counts, a shard at a time.
#pragma once

#include "winkhold/measure/soak/cause.hpp"

#include <cstdint>
#include <vector>

namespace winkhold::measure {

struct SoakRun;

/// How often, how bad at worst, and in which ride (the first, if several are as bad).
struct SoakCount {
    std::int64_t count{0};
    TimeUs worst_us{0};
    std::int64_t ride{-1}; ///< -1: none

    /// One more, of this ride. Rides must come in rising order for the first of several to be named.
    void add(TimeUs value_us, std::int64_t in_ride);
    /// `later` counts later rides.
    void append(const SoakCount& later);
};

/// A time that is measured: how often, the worst, and the sum for the mean.
struct SoakLatency {
    SoakCount worst;
    TimeUs sum_us{0};
};

/// What is counted of a decoder's answer.
struct SoakErrors {
    std::int64_t dropouts{0};
    std::int64_t false_shows{0};
    std::int64_t missed{0};
};

/// Times that are measured; words are in `soak_figures`, by the same numbers.
enum class SoakFigure { acquire, release, overlap };
inline constexpr std::array<std::string_view, 3> soak_figures{"acquire", "release", "overlap"};

/// All rides of one population of bikes.
struct PopulationTally {
    std::int64_t rides{0};
    std::int64_t flashes{0};
    std::int64_t requests{0};
    std::array<SoakLatency, soak_figures.size()> latencies;
    std::array<std::array<SoakCount, soak_causes.size()>, soak_kinds.size()> findings;
    SoakErrors plain;                                             ///< of the plain hold on the same rides
    std::array<SoakLatency, soak_figures.size()> plain_latencies; ///< its

    /// Findings of this kind, whatever their cause.
    std::int64_t count(SoakKind kind) const;
    /// Findings of all causes, counted as those of the plain hold are.
    SoakErrors errors() const;
};

/// All rides whose lines one kind makes imperfect, perhaps among others.
struct AxisTally {
    std::int64_t rides{0};
    std::int64_t requests{0};
    std::int64_t kinds{0}; ///< of imperfection, added up over the requests
    SoakErrors errors;
    SoakErrors plain; ///< of the plain hold on the same rides
};

/// Where the settings cost more beside the plain hold than score/plain_hold.hpp allows.
struct SoakMiss {
    std::string_view where; ///< a population or an axis
    std::string_view what;  ///< "dropouts" or "false shows"
    double value;           ///< a request
    double limit;
};

/// All that a soak has counted so far.
struct SoakTally {
    std::array<PopulationTally, soak_populations.size()> populations;
    std::array<AxisTally, soak_axes.size()> axes;

    /// Counts one ride. Rides must come in rising order.
    void add(std::int64_t ride, const SoakRun& run);
    /// `later` holds later rides.
    void append(const SoakTally& later);
    /// Of all populations.
    std::int64_t flashes() const;
    /// Findings for which no cause was found: 0 in a good soak.
    std::int64_t unexplained() const;
    /// Of the axes, and of the population as_set, where nothing is allowed for imperfect lines.
    std::vector<SoakMiss> misses() const;
};

/// Calls visit(number) for every number of a tally, always in the same order; to write it and to read it.
template <class Tally, class Visit>
void for_each_number(Tally& tally, Visit&& visit) {
    const auto count = [&](auto& of) {
        visit(of.count);
        visit(of.worst_us);
        visit(of.ride);
    };
    const auto latencies = [&](auto& of) {
        for (auto& latency : of) {
            count(latency.worst);
            visit(latency.sum_us);
        }
    };
    const auto errors = [&](auto& of) {
        visit(of.dropouts);
        visit(of.false_shows);
        visit(of.missed);
    };
    for (auto& axis : tally.axes) {
        visit(axis.rides);
        visit(axis.requests);
        visit(axis.kinds);
        errors(axis.errors);
        errors(axis.plain);
    }
    for (auto& population : tally.populations) {
        visit(population.rides);
        visit(population.flashes);
        visit(population.requests);
        latencies(population.latencies);
        latencies(population.plain_latencies);
        errors(population.plain);
        for (auto& kind : population.findings)
            for (auto& cause : kind)
                count(cause);
    }
}

} // namespace winkhold::measure
