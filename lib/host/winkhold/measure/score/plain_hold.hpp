/// The decoder that every other one is held against, and what it may cost beside that one.
#pragma once

#include "winkhold/base/time.hpp"
#include "winkhold/core/settings.hpp"

namespace winkhold::measure {

/// One hold for all bikes.
inline constexpr TimeUs plain_hold_us = 840'000;

/// What a hold-off filter does: fixed hold, both sides independent, no cut-short.
inline core::Settings plain_hold(TimeUs hold_us) {
    core::Settings settings;
    settings.rule = core::HoldRule::fixed;
    settings.hold_us = static_cast<std::uint32_t>(hold_us);
    settings.handover_us = 0;
    settings.cut_short = false;
    return settings;
}

/// On imperfect lines a decoder may have so many more than the plain hold, a request.
inline constexpr double more_dropouts = 0.05; ///< for each kind of imperfection
inline constexpr double more_false_shows = 0.01;

} // namespace winkhold::measure
