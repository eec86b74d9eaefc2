/// `winkhold sequence`: what the lamps show, written while the recording is read.
#pragma once

#include "winkhold/bike/lamps/lamp_plan.hpp"
#include "winkhold/taps/decode/decode.hpp"

#include <memory>

namespace winkhold::bike {

/// The stretch that the text draws lamp by lamp.
struct CloseUp {
    TimeUs from_us{-1}; ///< below 0: shortly before the first flash
    TimeUs for_us{0};   ///< 0: two flashes or so
    bool colour{false}; ///< for a terminal; else plain characters
};

/// Plays `source` on the plan's lamps and writes to `out`: frames and fills as JSON, frames as CSV with one
/// column a lamp, or a drawing with what the fills reached. Memory does not grow with the source's length.
/// Returns the number of flashes, of groups that play a pattern, in which a lamp stayed dark although nobody
/// cancelled. `title` heads the text. Throws InputError from the source.
std::int64_t write_sequence(std::ostream& out, EdgeSource& source, const core::Settings& settings,
                            const LampPlan& plan, Format format, const CloseUp& close_up,
                            const std::string& title);

/// Passes on the edges of `source` and writes what the lamps show to `out` as a value change dump: in ticks
/// of 1 us, left, right and indication in the scope "winkhold", below it a scope for each group with one
/// signal of 8 bits a lamp. `out` is complete when the returned source has said that there is no more; both
/// must live until then. Memory stays flat.
std::unique_ptr<EdgeSource> write_lamp_vcd(EdgeSource& source, const core::Settings& settings,
                                           const LampPlan& plan, std::ostream& out);

} // namespace winkhold::bike
