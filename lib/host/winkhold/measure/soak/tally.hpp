/// What a soak counts, a shard at a time.
#pragma once

#include "winkhold/measure/soak/cause.hpp"

#include <cstdint>

namespace winkhold::measure {

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

enum class SoakFigure { acquire, release, overlap };
inline constexpr std::array<std::string_view, 3> soak_figures{"acquire", "release", "overlap"};

struct PopulationTally {
    std::int64_t rides{0};
    std::int64_t flashes{0};
    std::array<SoakLatency, soak_figures.size()> latencies;
    std::array<std::array<SoakCount, soak_causes.size()>, soak_kinds.size()> findings;

    std::int64_t count(SoakKind kind) const;
};

struct SoakTally {
    std::array<PopulationTally, soak_populations.size()> populations;

    void add(std::int64_t ride, SoakPopulation population, std::int64_t flashes, const SoakVerdict& verdict);
    /// `later` holds later rides.
    void append(const SoakTally& later);
    std::int64_t flashes() const;
    std::int64_t unexplained() const;
};

/// Calls visit(number) for every number of a tally, always in the same order; to write it and to read it.
template <class Tally, class Visit>
void for_each_number(Tally& tally, Visit&& visit) {
    const auto count = [&](auto& of) {
        visit(of.count);
        visit(of.worst_us);
        visit(of.ride);
    };
    for (auto& population : tally.populations) {
        visit(population.rides);
        visit(population.flashes);
        for (auto& latency : population.latencies) {
            count(latency.worst);
            visit(latency.sum_us);
        }
        for (auto& kind : population.findings)
            for (auto& cause : kind)
                count(cause);
    }
}

} // namespace winkhold::measure
