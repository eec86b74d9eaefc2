/// The reference decoder: a whole trace in, the answer over time out.
///
/// It says what lib/core/README.md says, in the slowest and plainest way: whole lists kept, every moment
/// looked at, in 64-bit time, sharing nothing with the core but the settings and the names of taps and
/// answers.
///
///     edges -> stretches -> settled on phases -> moment by moment: lights, rhythm, sides asked for -> answer
#pragma once

#include "winkhold/core/settings.hpp"
#include "winkhold/taps/trace/trace.hpp"

#include <utility>
#include <vector>

namespace winkhold::reference {

using Answer = std::pair<host::TimeUs, core::Indication>; ///< shown from this moment on

/// Changes in order of time; the first is at the first edge. `settings` pass core::check().
std::vector<Answer> decode(const host::Trace& trace, const core::Settings& settings);

} // namespace winkhold::reference
