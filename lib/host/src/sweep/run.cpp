#include "winkhold/host/sweep/sweep.hpp"
#include "winkhold/host/waveform/ride.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <thread>

namespace winkhold::host {
namespace {

constexpr std::int64_t trials_a_batch = 256;

Responses run_batch(RideMaker& maker, const SweepPlan& plan, std::int64_t batch, Phases& phases) {
    Responses responses;
    const std::int64_t end = std::min(plan.trials, (batch + 1) * trials_a_batch);
    for (std::int64_t trial = batch * trials_a_batch; trial < end; ++trial) {
        const Ride& ride = maker.make(plan.seed, static_cast<std::uint64_t>(trial));
        find_phases(ride.trace, plan.settings, phases);
        reduce(phases, ride.truth, responses);
    }
    return responses;
}

} // namespace

Responses run_trials(const Scenario& scenario, const SweepPlan& plan, const Progress& progress) {
    const std::int64_t batches = (plan.trials + trials_a_batch - 1) / trials_a_batch;
    std::vector<Responses> done(static_cast<std::size_t>(batches));
    std::atomic<std::int64_t> next{0};
    std::atomic<std::int64_t> finished{0};
    const auto work = [&] {
        RideMaker maker(scenario);
        Phases phases;
        for (std::int64_t batch = next++; batch < batches; batch = next++) {
            done[static_cast<std::size_t>(batch)] = run_batch(maker, plan, batch, phases);
            ++finished;
        }
    };
    {
        std::vector<std::jthread> helpers;
        for (int i = 1; i < std::min<std::int64_t>(plan.threads, batches); ++i)
            helpers.emplace_back(work);
        if (progress) {
            std::jthread first(work);
            while (finished < batches) {
                progress(std::min(finished * trials_a_batch, plan.trials), plan.trials);
                std::this_thread::sleep_for(std::chrono::milliseconds(50));
            }
            progress(plan.trials, plan.trials);
        } else {
            work();
        }
    }
    // joined in order of trials, so that the result doesn't depend on which thread was first
    Responses all;
    for (Responses& part : done) {
        all.append(part);
        part = Responses{};
    }
    all.sort();
    return all;
}

} // namespace winkhold::host
