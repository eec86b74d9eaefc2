#include "winkhold/measure/faults/run.hpp"

#include "winkhold/base/detail/parallel.hpp"
#include "winkhold/measure/waveform/ride.hpp"

#include <algorithm>

namespace winkhold::measure {
namespace {

/// Keeps the clock's draws apart from the waveform's.
constexpr std::uint64_t clock_stream = 0x636c6f636bu;

void add_once(const std::string& what, std::vector<std::string>& list) {
    if (std::find(list.begin(), list.end(), what) == list.end()) list.push_back(what);
}

void note(const FaultLimits& limits, const std::vector<FaultFigure>& measures, unsigned flags,
          std::uint64_t seed, const std::string& variant, FaultResult& result) {
    const bool broken =
        std::any_of(measures.begin(), measures.end(), [](const FaultFigure& m) { return m.broken(); });
    const FaultVerdict verdict = !broken                            ? FaultVerdict::good
                                 : raised(flags, limits.excused_by) ? FaultVerdict::cannot_tell
                                                                    : FaultVerdict::falls_short;
    const FaultFigure& worst =
        *std::max_element(measures.begin(), measures.end(),
                          [](const FaultFigure& a, const FaultFigure& b) { return a.strain() < b.strain(); });
    if (result.rides == 0 || verdict > result.verdict ||
        (verdict == result.verdict && worst.strain() > result.worst.strain())) {
        result.worst = worst;
        result.worst_seed = seed;
        result.worst_variant = variant;
    }
    result.verdict = std::max(result.verdict, verdict);
    ++result.rides;
    result.rides_short += verdict == FaultVerdict::falls_short;
    result.rides_cannot_tell += verdict == FaultVerdict::cannot_tell;
    if (verdict == FaultVerdict::falls_short && !variant.empty()) add_once(variant, result.short_variants);
    result.flags |= flags;
    for (const FaultFigure& m : measures)
        if (m.broken()) add_once(m.what, result.broken);
}

std::vector<FaultResult> run_fault(const FaultCase& fault, const std::vector<NamedDecoder>& decoders,
                                   std::uint64_t seeds) {
    std::vector<FaultResult> results(decoders.size());
    for (const FaultVariant& variant : fault.variants) {
        RideMaker maker(variant.scenario);
        for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
            const Ride& ride = maker.make(seed, 0);
            for (std::size_t i = 0; i < decoders.size(); ++i) {
                const auto hear = [&](const ClockModel& clock) {
                    RandomStream random(seed, clock_stream);
                    return listen(ride.trace, decoders[i].settings, clock, random);
                };
                const Heard heard = hear(variant.scenario.clock);
                std::optional<Heard> plain;
                if (variant.limits.same_at_any_count) {
                    ClockModel clock = variant.scenario.clock;
                    clock.wraps = false;
                    plain = hear(clock);
                }
                note(variant.limits, judge(variant.limits, ride.truth, heard, plain ? &*plain : nullptr),
                     heard.flags, seed, variant.name, results[i]);
            }
        }
    }
    return results;
}

} // namespace

FaultRun run_faults(std::vector<FaultCase> faults, std::vector<NamedDecoder> decoders, std::uint64_t seeds,
                    int threads, const Progress& progress) {
    FaultRun run{std::move(decoders), std::move(faults), {}, seeds};
    run.results.resize(run.faults.size());
    for_each_index(
        run.faults.size(), threads,
        [&](std::size_t i) { run.results[i] = run_fault(run.faults[i], run.decoders, seeds); }, progress);
    return run;
}

} // namespace winkhold::measure
