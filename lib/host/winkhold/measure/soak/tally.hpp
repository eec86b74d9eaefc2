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

    void add(TimeUs value_us, std::int64_t in_ride);
    void append(const SoakCount& later);
};

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

enum class SoakFigure { acquire, release, overlap };
inline constexpr std::array<std::string_view, 3> soak_figures{"acquire", "release", "overlap"};

struct PopulationTally {
    std::int64_t rides{0};
    std::int64_t flashes{0};
    std::int64_t requests{0};
    std::array<SoakLatency, soak_figures.size()> latencies;
    std::array<std::array<SoakCount, soak_causes.size()>, soak_kinds.size()> findings;
    SoakErrors plain;                                             ///< of the plain hold on the same rides
    std::array<SoakLatency, soak_figures.size()> plain_latencies; ///< its

    std::int64_t count(SoakKind kind) const;
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

struct SoakTally {
    std::array<PopulationTally, soak_populations.size()> populations;
    std::array<AxisTally, soak_axes.size()> axes;

    void add(std::int64_t ride, const SoakRun& run);
    /// `later` holds later rides.
    void append(const SoakTally& later);
    std::int64_t flashes() const;
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
