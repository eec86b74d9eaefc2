/// Flashes in a row at one rhythm.
#pragma once

#include "winkhold/bike/limits/observed.hpp"

#include <span>

namespace winkhold::bike {

struct SteadyRun {
    struct Cycle { ///< from one rise to the next
        TimeUs at_us;
        TimeUs lit_us;
        TimeUs period_us;
    };

    const Signal* signal;
    int cycles_before{0};      ///< of the same run, at another rhythm
    std::vector<Cycle> cycles; ///< at least one

    TimeUs first_rise_us() const { return cycles.front().at_us; }
    TimeUs last_rise_us() const { return cycles.back().at_us + cycles.back().period_us; }
};

std::vector<TimeUs> periods_us(std::span<const SteadyRun::Cycle> cycles);

/// A run is what one request shows; where requests are not known, lights less than a second apart, or slower
/// ones at equal distances. A run's rhythm changes where three cycles in a row are all a quarter shorter, or
/// longer, than each of the three before: a lamp that fails. Flashes in groups are one rhythm.
std::vector<SteadyRun> steady_runs(const Signal& signal, const std::optional<std::vector<Asked>>& asked);

} // namespace winkhold::bike
