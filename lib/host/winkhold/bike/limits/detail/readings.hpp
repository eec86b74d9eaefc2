/// What each measure reads.
#pragma once

#include "winkhold/bike/lamps/lamps.hpp"
#include "winkhold/bike/limits/limit.hpp"
#include "winkhold/bike/limits/observed.hpp"

#include <algorithm>
#include <span>

namespace winkhold::bike {

/// One figure, in the measure's own unit (scale() in limit.hpp).
struct Reading {
    double for_least{0}; ///< what `least` is held against
    double for_most{0};  ///< what `most` is held against
    std::string where;
    TimeUs at_us{0};
    std::int64_t trial{0};
    bool at_least{false};
    std::optional<FlashRate> rate{};
};

struct Readings {
    std::vector<Reading> all;
    std::vector<std::string> unknown; ///< what can't be read; then nothing is known to be kept
    std::string why_none;             ///< for people, if there are none

    void add(double value, const std::string& where, TimeUs at_us, std::int64_t trial) {
        all.push_back({value, value, where, at_us, trial});
    }
};

/// Reads what `limit.measure` needs, the way the limit says. Not for LimitMeasure::by_hand.
Readings read_flash_rates(const Limit& limit, std::span<const Observed> observed);
Readings read_starts(const Limit& limit, std::span<const Observed> observed);
Readings read_hazards(std::span<const Observed> observed);
/// The field of a lamp's table that a measure of is_of_turn_lamps() looks at.
const char* field_of(LimitMeasure measure);
/// Colour, distances and heights of turn lamps.
Readings read_places(const Limit& limit, const Lamps& lamps);
Readings read_lamps(const Limit& limit, std::span<const Observed> observed, const Lamps& lamps);

/// From `t_us` to the nearest of some moments in order of time, at least one.
inline TimeUs distance_us(const std::vector<TimeUs>& moments_us, TimeUs t_us) {
    const auto after = std::lower_bound(moments_us.begin(), moments_us.end(), t_us);
    const TimeUs ahead_us = after == moments_us.end() ? never_us : *after - t_us;
    return after == moments_us.begin() ? ahead_us : std::min(ahead_us, t_us - *std::prev(after));
}

} // namespace winkhold::bike
