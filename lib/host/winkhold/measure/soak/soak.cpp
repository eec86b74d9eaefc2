#include "winkhold/measure/soak/soak.hpp"

#include "winkhold/measure/soak/detail/shard_sum.hpp"
#include "winkhold/measure/soak/detail/state_file.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <exception>
#include <mutex>
#include <thread>

namespace winkhold::measure {
namespace {

/// Shards in the order in which threads take them, and what became of them.
class Shards {
public:
    explicit Shards(const SoakPlan& plan) : plan_(plan), all_(shards_of(plan.flashes)) {
        if (!plan.state_file.empty()) state_.emplace(plan, sum_);
        before_ = sum_.count();
    }

    std::int64_t all() const { return all_; }
    std::int64_t before() const { return before_; }
    std::int64_t open() const { return all_ - before_; }
    std::int64_t finished() const { return finished_; }
    bool over() const { return failed_ || finished_ == open(); }

    void work() try {
        for (std::int64_t shard = take(); shard < all_ && !failed_; shard = take()) {
            const SoakTally tally = run_shard(plan_, shard);
            const std::lock_guard lock(mutex_);
            if (state_) state_->append(shard, tally);
            sum_.put(shard, tally);
            ++finished_;
        }
    } catch (...) {
        const std::lock_guard lock(mutex_);
        error_ = std::current_exception();
        failed_ = true;
    }

    SoakTally sum() const {
        if (error_) std::rethrow_exception(error_);
        return sum_.sum();
    }

private:
    /// The next one that nobody has done.
    std::int64_t take() {
        const std::lock_guard lock(mutex_);
        while (next_ < all_ && sum_.has(next_))
            ++next_;
        return next_++;
    }

    const SoakPlan& plan_;
    std::int64_t all_;
    std::int64_t before_{0};
    std::int64_t next_{0};
    ShardSum sum_;
    std::optional<StateFile> state_;
    std::atomic<std::int64_t> finished_{0};
    std::atomic<bool> failed_{false};
    std::exception_ptr error_;
    std::mutex mutex_;
};

} // namespace

SoakRun run_soak_ride(const SoakPlan& plan, std::int64_t ride) {
    const auto number = static_cast<std::uint64_t>(ride);
    SoakRun run{draw_soak_ride(plan.seed, number, plan.settings), {}, {}, {}};
    RideMaker maker(run.soak.scenario);
    run.ride = maker.make(plan.seed, soak_trial(number));
    run.timeline = decode(run.ride.trace, run.soak.scenario.decoder);
    std::optional<Trace> undisturbed;
    if (run.soak.population == SoakPopulation::disturbed)
        undisturbed = undisturbed_trace(run.soak, plan.seed, number);
    judge_soak_ride(run.soak, run.ride, run.timeline, run.verdict, undisturbed ? &*undisturbed : nullptr);
    return run;
}

SoakTally run_shard(const SoakPlan& plan, std::int64_t shard) {
    SoakTally tally;
    for (std::int64_t ride = shard * rides_a_shard; tally.flashes() < shard_flashes; ++ride)
        tally.add(ride, run_soak_ride(plan, ride));
    return tally;
}

SoakTally run_soak(const SoakPlan& plan, const SoakProgress& progress) {
    Shards shards(plan);
    const std::int64_t before = shards.before();
    const auto threads = std::clamp<std::int64_t>(plan.threads, 1, std::max<std::int64_t>(1, shards.open()));
    {
        std::vector<std::jthread> workers;
        for (std::int64_t i = 0; i < threads; ++i)
            workers.emplace_back([&] { shards.work(); });
        while (progress && !shards.over()) {
            progress(before + shards.finished(), before, shards.all());
            std::this_thread::sleep_for(std::chrono::milliseconds(100));
        }
    }
    if (progress) progress(before + shards.finished(), before, shards.all());
    return shards.sum();
}

} // namespace winkhold::measure
