#include "winkhold/measure/sweep/sweep.hpp"
#include "winkhold/measure/waveform/ride.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <thread>

namespace winkhold::measure {
namespace {

constexpr std::int64_t trials_a_batch = 256;

void run_batch(RideMaker& maker, const SweepPlan& plan, std::int64_t batch, Phases& phases,
               Responses& responses) {
    const std::int64_t end = std::min(plan.trials, (batch + 1) * trials_a_batch);
    for (std::int64_t trial = batch * trials_a_batch; trial < end; ++trial) {
        const Ride& ride = maker.make(plan.seed, static_cast<std::uint64_t>(trial));
        find_phases(ride.trace, plan.settings, phases);
        reduce(phases, ride.truth, responses);
    }
}

} // namespace

Responses run_trials(const Scenario& scenario, const SweepPlan& plan, const Progress& progress) {
    const std::int64_t batches = (plan.trials + trials_a_batch - 1) / trials_a_batch;
    const auto threads = static_cast<std::size_t>(std::clamp<std::int64_t>(plan.threads, 1, batches));
    std::vector<Responses> parts(threads);
    std::atomic<std::int64_t> next{0};
    std::atomic<std::int64_t> finished{0};
    const auto work = [&](std::size_t part) {
        RideMaker maker(scenario);
        Phases phases;
        Responses responses; // of its own until the end, so that threads don't share cache lines
        for (std::int64_t batch = next++; batch < batches; batch = next++) {
            run_batch(maker, plan, batch, phases, responses);
            ++finished;
        }
        parts[part] = std::move(responses);
    };
    {
        std::vector<std::jthread> workers;
        for (std::size_t part = progress ? 0 : 1; part < threads; ++part)
            workers.emplace_back(work, part);
        if (!progress) work(0);
        while (progress && finished < batches) {
            progress(std::min(finished * trials_a_batch, plan.trials), plan.trials);
            std::this_thread::sleep_for(std::chrono::milliseconds(50));
        }
        if (progress) progress(plan.trials, plan.trials);
    }
    // Who did which trial is chance, but responses are counted, summed as integers and sorted: their order is
    // never seen in a result.
    Responses all = std::move(parts.front());
    for (std::size_t part = 1; part < threads; ++part)
        all.append(parts[part]);
    all.sort();
    return all;
}

} // namespace winkhold::measure
