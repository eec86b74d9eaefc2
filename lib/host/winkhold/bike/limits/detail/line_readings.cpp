// What flashing signals read: rate, share, hazard.
#include "winkhold/bike/limits/detail/readings.hpp"
#include "winkhold/bike/limits/detail/steady_runs.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

/// Cycles that count, by the limit's method; none if there are too few.
std::span<const SteadyRun::Cycle> counting(const SteadyRun& run, const Limit& limit) {
    const auto skip = static_cast<std::size_t>(std::max(0, limit.after_cycles - run.cycles_before));
    if (run.cycles.size() < skip + static_cast<std::size_t>(limit.mean_of_cycles)) return {};
    return std::span(run.cycles).subspan(skip);
}

Reading rate_reading(const FlashRate& rate, Averaging averaging) {
    Reading reading;
    reading.for_most = rate.mean_of_rates_per_min;
    reading.for_least =
        averaging == Averaging::mean_of_rates ? rate.mean_of_rates_per_min : rate.of_mean_period_per_min;
    reading.rate = rate;
    return reading;
}

Reading share_reading(std::span<const SteadyRun::Cycle> cycles) {
    TimeUs lit_us = 0, all_us = 0;
    for (const SteadyRun::Cycle& cycle : cycles) {
        lit_us += cycle.lit_us;
        all_us += cycle.period_us;
    }
    Reading reading;
    reading.for_least = reading.for_most = 100 * static_cast<double>(lit_us) / static_cast<double>(all_us);
    return reading;
}

std::string too_few(const Limit& limit, const std::optional<SteadyRun>& longest) {
    const std::string needed =
        fmt::format("it takes {} flashes in a row: {} cycles go by first, then the mean of {} or more",
                    limit.after_cycles + limit.mean_of_cycles + 1, limit.after_cycles, limit.mean_of_cycles);
    if (!longest) return "no two flashes in a row; " + needed;
    const FlashRate rate = flash_rate_of(periods_us(longest->cycles));
    return fmt::format("only {} cycle{} in a row ({:.1f}/min), {}", rate.cycles, rate.cycles == 1 ? "" : "s",
                       rate.mean_of_rates_per_min, needed);
}

std::vector<TimeUs> rises_of(const SteadyRun& run) {
    std::vector<TimeUs> rises_us;
    for (const SteadyRun::Cycle& cycle : run.cycles)
        rises_us.push_back(cycle.at_us);
    rises_us.push_back(run.last_rise_us());
    return rises_us;
}

/// Flashes while both sides run, against the nearest of the other side; not the first and the last, for which
/// the other side may come later or have gone.
std::optional<Reading> compare_sides(const SteadyRun& run, const SteadyRun& other) {
    const TimeUs from_us = std::max(run.first_rise_us(), other.first_rise_us());
    const TimeUs to_us = std::min(run.last_rise_us(), other.last_rise_us());
    if (from_us >= to_us) return std::nullopt;
    const std::vector<TimeUs> its_us = rises_of(other);
    std::optional<Reading> worst;
    for (const SteadyRun::Cycle& cycle : run.cycles) {
        const TimeUs half_us = cycle.period_us / 2;
        if (cycle.at_us <= from_us + half_us || cycle.at_us + half_us >= to_us) continue;
        const auto apart_us = static_cast<double>(distance_us(its_us, cycle.at_us));
        if (!worst || apart_us > worst->for_most) worst = Reading{apart_us, apart_us, {}, cycle.at_us};
    }
    return worst;
}

void compare_sides(const std::vector<SteadyRun>& left, const std::vector<SteadyRun>& right,
                   std::int64_t trial, Readings& readings) {
    std::size_t next = 0; // of the right runs: none before it reaches this far
    for (const SteadyRun& run : left) {
        while (next < right.size() && right[next].last_rise_us() < run.first_rise_us())
            ++next;
        for (std::size_t i = next; i < right.size() && right[i].first_rise_us() < run.last_rise_us(); ++i) {
            std::optional<Reading> reading = compare_sides(run, right[i]);
            if (!reading) continue;
            reading->where = run.signal->of == SignalOf::line ? "both lines" : "both sides' lamps";
            reading->trial = trial;
            readings.all.push_back(*reading);
        }
    }
}

} // namespace

Readings read_flash_rates(const Limit& limit, std::span<const Observed> observed) {
    Readings readings;
    std::optional<SteadyRun> longest;
    for (const Observed& ride : observed)
        for (const Signal& signal : ride.signals)
            for (const SteadyRun& run : steady_runs(signal, ride.asked)) {
                if (!longest || run.cycles.size() > longest->cycles.size()) longest = run;
                const auto cycles = counting(run, limit);
                if (cycles.empty()) continue;
                Reading reading = limit.measure == LimitMeasure::on_share
                                      ? share_reading(cycles)
                                      : rate_reading(flash_rate_of(periods_us(cycles)), limit.averaging);
                reading.where = signal.name();
                reading.at_us = cycles.front().at_us;
                reading.trial = ride.trial;
                readings.all.push_back(reading);
            }
    readings.why_none = too_few(limit, longest);
    return readings;
}

Readings read_hazards(std::span<const Observed> observed) {
    Readings readings;
    readings.why_none = "no hazard of three flashes was seen";
    for (const Observed& ride : observed)
        for (const Signal& left : ride.signals)
            for (const Signal& right : ride.signals) {
                if (left.side != core::Side::left || right.side != core::Side::right || left.of != right.of)
                    continue;
                compare_sides(steady_runs(left, ride.asked), steady_runs(right, ride.asked), ride.trial,
                              readings);
            }
    return readings;
}

} // namespace winkhold::bike
