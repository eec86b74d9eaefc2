/// The soak: a very long run over everything a bike may do, cut into shards that can be done in any order, on
/// any number of threads, today or after a power cut.
#pragma once

#include "winkhold/measure/soak/tally.hpp"

#include <functional>
#include <string>

namespace winkhold::measure {

/// What is run. The same plan gives the same tally on any number of threads.
struct SoakPlan {
    core::Settings settings; ///< of the population as_set
    std::int64_t flashes{100'000'000};
    std::uint64_t seed{1};
    int threads{1};
    std::string state_file; ///< resumed if it exists; empty: nothing is kept
};

/// A shard makes rides until it has so many flashes.
inline constexpr std::int64_t shard_flashes = 100'000;
/// A shard's rides are numbered from shard x this on, so a ride's number says all.
inline constexpr std::int64_t rides_a_shard = 1'000'000;

/// How many shards it takes for that many flashes.
constexpr std::int64_t shards_of(std::int64_t flashes) {
    return (flashes + shard_flashes - 1) / shard_flashes;
}

/// One ride, made, decoded and judged.
struct SoakRun {
    SoakRide soak;
    Ride ride;
    Timeline timeline;
    SoakVerdict verdict;
};
/// One ride, by its number; depends on (plan.settings, plan.seed, ride) alone.
SoakRun run_soak_ride(const SoakPlan& plan, std::int64_t ride);

/// Depends on (plan.settings, plan.seed, shard) alone.
SoakTally run_shard(const SoakPlan& plan, std::int64_t shard);

/// Told now and then how many shards of all are done, and how many of them were done before this run.
using SoakProgress = std::function<void(std::int64_t done, std::int64_t before, std::int64_t all)>;

/// All shards, added up in order: the same tally whatever the threads, and however often it was stopped.
/// Throws InputError if the state file is damaged, belongs to another run, is in use, or can't be written.
SoakTally run_soak(const SoakPlan& plan, const SoakProgress& progress = {});

} // namespace winkhold::measure
