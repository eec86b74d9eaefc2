/// A trace reduced to its settled flashes, and how long each stays shown as a function of the swept setting.
#pragma once

#include "winkhold/taps/trace/settled_edges.hpp"

#include <array>
#include <vector>

namespace winkhold::taps {

/// One settled on phase of one side and the dark gap after it. With the swept setting at v the side is shown
/// from `rise_us` until lost_us(v), or until the next phase's rise if that comes no later.
struct Phase {
    TimeUs rise_us{0};             ///< settled
    TimeUs last_high_us{never_us}; ///< never_us: still on when the trace ended
    TimeUs base_us{never_us};      ///< v holds from here; never_us: v doesn't matter
    TimeUs limit_us{never_us};     ///< let go here at the latest: cut short, handed over, ceiling of the hold

    /// When the side is let go with the swept setting at `v`, if no rise comes before; never_us: not at all.
    TimeUs lost_us(TimeUs v) const {
        const TimeUs held_us = base_us == never_us ? never_us : base_us + v;
        return held_us < limit_us ? held_us : limit_us;
    }
};

/// Phases of the left and the right side, each in order of time.
using Phases = std::array<std::vector<Phase>, 2>;

/// What a sweep varies: `hold` under the fixed rule, `guard` under the paced rule (then `hold` is the
/// ceiling). Everything else about the phases is the same for every value: settle, cadence, cut-short and
/// handover look at settled edges only. That is why one pass over a trace serves the whole sweep. The core's
/// own Settle and Intent judge; no hold runs. Clears and fills `phases`.
void find_phases(const Trace& trace, const core::Settings& settings, Phases& phases);

/// The same, for a recording too long to hold in memory: only its phases are kept. Returns the end of the
/// recording. Throws InputError from the source.
TimeUs find_phases(EdgeSource& source, const core::Settings& settings, Phases& phases);

} // namespace winkhold::taps
