/// How long this bike's lamps take to answer, played on the decoder with clean lines.
#pragma once

#include "winkhold/base/range.hpp"
#include "winkhold/bike/lamps/lamp_plan.hpp"
#include "winkhold/core/lines.hpp"
#include "winkhold/core/settings.hpp"

#include <cstdint>
#include <optional>

namespace winkhold::bike {

struct Bench {
    const core::Settings& decoder;
    const LampPlan& plan;
    double period_us; ///< of the flasher
    double lit_share;
    bool has_supply_tap;
};

/// Lamps of one job on these sides (a mask of Lines).
struct Watched {
    core::Job job;
    std::uint8_t sides;
};

/// One hand movement. Sides flash, taps are steady; all are masks of Lines. The supply is up until `key_off`.
struct Act {
    std::uint8_t sides_before;
    std::uint8_t taps_before;
    std::uint8_t sides_after;
    std::uint8_t taps_after;
    enum class Until { lit, dark } until; ///< stop lamps: all at full brightness
    Watched watched;
    bool key_off{false};
};

/// From the movement to the answer, least and most over all phases of the flasher at which it may come; a
/// flasher that shows nothing before begins with a light. Phases at which nothing is lit have nothing to go
/// dark. None: some phase has no answer, or none has anything to go dark. Unit: us.
std::optional<Range> reaction_us(const Bench& bench, const Act& act);

} // namespace winkhold::bike
