// What is measured: the full path, its parts, and the naive ways to do the same.
#include "winkhold/measure/sweep/sweep.hpp"
#include "winkhold/measure/waveform/ride.hpp"
#include "winkhold/taps/trace/timeline.hpp"

#include <benchmark/benchmark.h>

namespace {

using namespace winkhold;
using host::TimeUs;

const host::Scenario& scenario() {
    static const host::Scenario unknown_bike = host::scenario_of(host::Vehicle::read(WINKHOLD_SCENARIO));
    return unknown_bike;
}

core::Settings fixed_hold() {
    core::Settings settings;
    settings.rule = core::HoldRule::fixed;
    settings.handover_us = 0;
    settings.cut_short = false;
    return settings;
}

/// The same rides for every benchmark that doesn't make its own.
struct Rides {
    std::vector<host::Ride> rides;
    std::int64_t flashes{0};

    Rides() {
        host::RideMaker maker(scenario());
        for (std::uint64_t trial = 0; trial < 20'000; ++trial) {
            rides.push_back(maker.make(1, trial));
            for (const host::Request& request : rides.back().truth.requests)
                flashes += request.flashes;
        }
    }
};

const Rides& rides() {
    static const Rides made;
    return made;
}

void count(benchmark::State& state, std::int64_t flashes_an_iteration) {
    state.SetItemsProcessed(state.iterations() * flashes_an_iteration);
}

/// Synthesise with bounce, settle, decode, score: default rules, one thread.
void full_path(benchmark::State& state) {
    host::RideMaker maker(scenario());
    host::Timeline timeline;
    std::int64_t flashes = 0;
    for (auto _ : state) {
        host::Figures figures;
        for (std::uint64_t trial = 0; trial < 4'000; ++trial) {
            const host::Ride& ride = maker.make(1, trial);
            timeline.clear();
            host::replay(ride.trace, core::Settings{}, host::TimelineRecorder(timeline));
            host::score(ride.truth, timeline, figures);
        }
        flashes = figures.flashes;
        benchmark::DoNotOptimize(figures);
    }
    count(state, flashes);
}
BENCHMARK(full_path)->Unit(benchmark::kMillisecond)->MinTime(1);

/// One plain decoder replay of the same traces.
void replay_once(benchmark::State& state) {
    host::Timeline timeline;
    for (auto _ : state)
        for (const host::Ride& ride : rides().rides) {
            timeline.clear();
            host::replay(ride.trace, fixed_hold(), host::TimelineRecorder(timeline));
            benchmark::DoNotOptimize(timeline.data());
        }
    count(state, rides().flashes);
}
BENCHMARK(replay_once)->Unit(benchmark::kMillisecond)->MinTime(1);

/// The exact curve over 41 holds, quantiles and all, from the same traces.
void full_curve(benchmark::State& state) {
    host::Phases phases;
    const auto values_us = host::parse_grid("100ms:900ms:20ms", "hold").values();
    for (auto _ : state) {
        host::Responses responses;
        for (const host::Ride& ride : rides().rides) {
            host::find_phases(ride.trace, fixed_hold(), phases);
            host::reduce(phases, ride.truth, responses);
        }
        responses.sort();
        benchmark::DoNotOptimize(host::curve_points(responses, fixed_hold(), values_us));
    }
    count(state, rides().flashes);
}
BENCHMARK(full_curve)->Unit(benchmark::kMillisecond)->MinTime(1);

/// The naive curve: 41 full replays, each scored.
void curve_by_replays(benchmark::State& state) {
    host::Timeline timeline;
    for (auto _ : state)
        for (const TimeUs hold_us : host::parse_grid("100ms:900ms:20ms", "hold").values()) {
            core::Settings settings = fixed_hold();
            settings.hold_us = static_cast<std::uint32_t>(hold_us);
            host::Figures figures;
            for (const host::Ride& ride : rides().rides) {
                timeline.clear();
                host::replay(ride.trace, settings, host::TimelineRecorder(timeline));
                host::score(ride.truth, timeline, figures);
            }
            benchmark::DoNotOptimize(figures);
        }
    count(state, rides().flashes);
}
BENCHMARK(curve_by_replays)->Unit(benchmark::kMillisecond)->Iterations(1);

/// The naive replay: a scan every millisecond, as firmware does.
void poll_each_ms(benchmark::State& state) {
    host::Timeline timeline;
    for (auto _ : state)
        for (const host::Ride& ride : rides().rides) {
            timeline.clear();
            host::TimelineRecorder record(timeline);
            core::Decoder decoder(fixed_hold());
            std::size_t next = 0;
            core::Lines lines;
            for (TimeUs t_us = 0; t_us <= ride.trace.end_us; t_us += 1'000) {
                while (next < ride.trace.edges.size() && ride.trace.edges[next].t_us <= t_us)
                    lines = ride.trace.edges[next++].lines;
                decoder.step(host::to_core(t_us), lines);
                record(t_us, decoder);
            }
            benchmark::DoNotOptimize(timeline.data());
        }
    count(state, rides().flashes);
}
BENCHMARK(poll_each_ms)->Unit(benchmark::kMillisecond)->MinTime(1);

void sweep_threads(benchmark::State& state) {
    host::SweepPlan plan;
    plan.settings = fixed_hold();
    plan.trials = 40'000;
    plan.threads = static_cast<int>(state.range(0));
    std::int64_t flashes = 0;
    for (auto _ : state)
        flashes = host::run_trials(scenario(), plan, {}).flashes;
    count(state, flashes);
}
BENCHMARK(sweep_threads)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime()->MinTime(2);

} // namespace
