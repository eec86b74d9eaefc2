/// A decoder listening to a trace through a clock that is not perfect.
#pragma once

#include "winkhold/measure/waveform/clock.hpp"
#include "winkhold/measure/waveform/random.hpp"
#include "winkhold/taps/trace/timeline.hpp"

namespace winkhold::measure {

/// What was heard, on the time of the trace.
struct Heard {
    Timeline timeline;
    unsigned flags{0}; ///< mask of core::Fault, ever raised on either line
};

/// Steps the decoder at every edge and whenever the clock says that its wake is due. After a reset a fresh
/// decoder starts, dark, at count 0. Draws only what the clock's ranges leave open.
Heard listen(const Trace& trace, const core::Settings& settings, const ClockModel& clock,
             RandomStream& random);

} // namespace winkhold::measure
