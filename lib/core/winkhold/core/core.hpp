/// Start here. Winkhold's core turns two flashing, bouncing lines into one steady indication.
///
///     raw taps -> settle -> cadence -> intent -> hold -> Indication        at each moment, from left to
///     right
///                   |          ^ |       |
///                   |          | +--> rhythm (one for both lines)
///                   +-------------- watch -------------> faults, beside the answer
///
///     Indication, settled taps -> flash -> pattern -> brightness of every lamp
///
///     micros.hpp    a moment, the one subtraction, alarms
///     lines.hpp     what goes in and what comes out
///     settings.hpp  every tunable, its range and the check that refuses
///     settle.hpp    one line: contact bounce, short pulses and PWM gaps
///     rhythm.hpp    both lines: on times and gaps learned, and the trust that a regular rhythm earns
///     cadence.hpp   one line: what its lights mean in that rhythm
///     intent.hpp    both lines, one verdict for one moment: which sides are asked for
///     hold.hpp      one line: how long silence is bridged
///     watch.hpp     faults
///     decoder.hpp   all of it behind step() and wake()
///     plain_taps.hpp  brake, tail and supply beside it: settled, nothing more
///     lamps.hpp     lamp groups and patterns, data of the caller's
///     flash.hpp     one side: the flashes its lamps play in
///     sequence.hpp  all lamps behind step() and frame()
///     board.hpp     decoder, taps and sequence as one
///
/// The core's rules: C++14, freestanding, header-only, nothing linked, integers only, no heap, no division
/// of run-time values, never reads a clock. The same bytes run in a simulation and in firmware.
/// Turn signals are safety equipment: keep the factory tell-tales working and follow local rules.
#pragma once

#include "winkhold/core/board.hpp"
