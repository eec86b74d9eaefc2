/// Figures of one line's lights.
#pragma once

#include "winkhold/taps/inspect/inspect.hpp"

namespace winkhold::taps {

/// The middle of the lights is chopped for most of the time, or half of the lights are chopped for a while by
/// rises as regular as a dimmer's: bright enough, it pauses no more. A fall that bounces is not chopped.
bool is_chopped(const LightFinder& finder, TimeUs tick_us);

/// What chops it, unless that has no rhythm.
std::optional<Pwm> pwm_of(const LightFinder& finder, TimeUs tick_us);

struct Recorded {
    TimeUs start_us;
    TimeUs end_us;
    TimeUs tick_us; ///< step of the clock
};

/// Moves the finder's lights into the view, mended, and fills all that follows from them.
void fill_figures(LineView& view, LightFinder& finder, Recorded recorded);

} // namespace winkhold::taps
