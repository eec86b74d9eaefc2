/// What no causal decoder can beat: the clairvoyant bound.
#pragma once

#include "winkhold/measure/score/figures.hpp"
#include "winkhold/measure/waveform/ride.hpp"

namespace winkhold::measure {

/// Adds, for every event of the ride, the figure of a decoder that knows this bike's true rhythm but not the
/// future. With B the longest bounce, d the settle time, s the handover window, Q the 1 - 1e-6 quantile of
/// the dark gap:
/// - acquire: B + d; hazard s + B + d
/// - release: off is certain Q + B + d after the last light; at once (B + d) if that light was cut short
/// below
///   the 1e-6 quantile of the on time (never with a whole-cycle flasher); or s + B after the other side's
///   first light
/// - overlap: from the other side's acquire to that release, at most s
///
/// Of requests that begin in [from_us, before_us), as score() has it.
void add_bound(const Scenario& scenario, const Ride& ride, Figures& figures, TimeUs from_us = 0,
               TimeUs before_us = never_us);

} // namespace winkhold::measure
