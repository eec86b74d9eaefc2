/// What each measure reads.
#pragma once

#include "winkhold/host/lamps/lamps.hpp"
#include "winkhold/host/rules/limit.hpp"
#include "winkhold/host/rules/observed.hpp"

#include <span>

namespace winkhold::host {

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

/// Reads what `limit.measure` needs, the way the limit says. Not for Measure::by_hand.
Readings read_flash_rates(const Limit& limit, std::span<const Observed> observed);
Readings read_starts(const Limit& limit, std::span<const Observed> observed);
Readings read_hazards(std::span<const Observed> observed);
Readings read_geometry(const Limit& limit, const Lamps& lamps);

} // namespace winkhold::host
