#include "winkhold/bike/limits/detail/steady_runs.hpp"

#include <algorithm>

namespace winkhold::bike {
namespace {

using Cycle = SteadyRun::Cycle;

/// Slower than any flasher; with more between, even equal distances are the rider's.
constexpr TimeUs slowest_us = 6'000'000;

Cycle cycle_at(const std::vector<SeenLight>& lights, std::size_t i) {
    return {lights[i].on_us, lights[i].lit_us(), lights[i + 1].on_us - lights[i].on_us};
}

bool is_quick(const Cycle& cycle) {
    return cycle.lit_us <= core::built_in::longest_on_us &&
           cycle.period_us - cycle.lit_us <= core::built_in::longest_gap_us;
}

/// Per light: the next one belongs to the same run. By their distance alone a slow flasher and a rider who
/// taps look alike; but a rider doesn't keep time.
std::vector<bool> joined_by_distance(const std::vector<SeenLight>& lights) {
    constexpr std::size_t least_slow = 3;
    std::vector<bool> joined(lights.size(), false);
    for (std::size_t i = 0; i + 1 < lights.size();) {
        const Cycle first = cycle_at(lights, i);
        joined[i] = is_quick(first);
        std::size_t end = i;
        while (!joined[i] && end + 1 < lights.size()) {
            const Cycle next = cycle_at(lights, end);
            const bool alike = 7 * std::abs(next.period_us - first.period_us) <= first.period_us;
            if (!alike || is_quick(next) || next.period_us > slowest_us || lights[end].from_start) break;
            ++end;
        }
        if (end - i >= least_slow)
            std::fill_n(joined.begin() + static_cast<std::ptrdiff_t>(i), end - i, true);
        i = std::max(end, i + 1);
    }
    return joined;
}

std::vector<bool> joined_by_request(const Signal& signal, const std::vector<Asked>& asked) {
    const std::vector<SeenLight>& lights = signal.lights;
    const auto request_of = [&](const SeenLight& light) {
        const auto after =
            std::upper_bound(asked.begin(), asked.end(), light.on_us,
                             [](TimeUs t_us, const Asked& request) { return t_us < request.start_us; });
        if (after == asked.begin()) return asked.end();
        const auto request = std::prev(after);
        const bool meant = light.on_us < request->end_us && core::shows(request->show, signal.side);
        return meant ? request : asked.end();
    };
    std::vector<bool> joined(lights.size(), false);
    for (std::size_t i = 0; i + 1 < lights.size(); ++i) {
        const auto request = request_of(lights[i]);
        joined[i] = request != asked.end() && request_of(lights[i + 1]) == request;
    }
    return joined;
}

bool another_rhythm(std::span<const Cycle> before, std::span<const Cycle> after) {
    const auto by_period = [](const Cycle& a, const Cycle& b) { return a.period_us < b.period_us; };
    const auto [before_least, before_most] = std::minmax_element(before.begin(), before.end(), by_period);
    const auto [after_least, after_most] = std::minmax_element(after.begin(), after.end(), by_period);
    return 5 * after_most->period_us < 4 * before_least->period_us ||
           4 * after_least->period_us > 5 * before_most->period_us;
}

void add_rhythms(const Signal& signal, const std::vector<Cycle>& run, std::vector<SteadyRun>& runs) {
    constexpr std::size_t few = 3;
    const std::span<const Cycle> all(run);
    std::size_t from = 0;
    const auto close = [&](std::size_t to) {
        if (from < to)
            runs.push_back({&signal,
                            static_cast<int>(from),
                            {run.begin() + static_cast<std::ptrdiff_t>(from),
                             run.begin() + static_cast<std::ptrdiff_t>(to)}});
        from = to;
    };
    for (std::size_t at = few; at + few <= run.size(); ++at)
        if (at >= from + few && another_rhythm(all.subspan(at - few, few), all.subspan(at, few))) close(at);
    close(run.size());
}

} // namespace

std::vector<TimeUs> periods_us(std::span<const SteadyRun::Cycle> cycles) {
    std::vector<TimeUs> periods_us;
    for (const SteadyRun::Cycle& cycle : cycles)
        periods_us.push_back(cycle.period_us);
    return periods_us;
}

std::vector<SteadyRun> steady_runs(const Signal& signal, const std::optional<std::vector<Asked>>& asked) {
    const std::vector<SeenLight>& lights = signal.lights;
    const std::vector<bool> joined = asked ? joined_by_request(signal, *asked) : joined_by_distance(lights);
    std::vector<SteadyRun> runs;
    std::vector<Cycle> run;
    for (std::size_t i = 0; i < lights.size(); ++i) {
        if (joined[i] && !lights[i].from_start) run.push_back(cycle_at(lights, i));
        if (joined[i]) continue;
        add_rhythms(signal, run, runs);
        run.clear();
    }
    return runs;
}

} // namespace winkhold::bike
