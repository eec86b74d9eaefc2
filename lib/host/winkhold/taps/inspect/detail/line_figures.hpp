/// Figures of one line's lights.
#pragma once

#include "winkhold/taps/inspect/inspect.hpp"

namespace winkhold::taps {

/// The middle of the lights is chopped for most of the time. A fall that bounces is not.
bool is_chopped(const LightFinder& finder);

/// What chops it, unless that has no rhythm.
std::optional<Pwm> pwm_of(const LightFinder& finder);

/// Moves the finder's lights into the view and fills all that follows from them.
void fill_figures(LineView& view, LightFinder& finder, TimeUs start_us);

} // namespace winkhold::taps
