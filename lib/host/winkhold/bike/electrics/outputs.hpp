/// What the outputs of the board can't do of what the lamps on them play.
#pragma once

#include "winkhold/bike/electrics/supply.hpp"

namespace winkhold::bike {

/// One thing that no firmware can make this output do.
struct OutputBreach {
    std::optional<std::size_t> group; ///< in [[lamps]]; none: of [board]
    std::string what;                 ///< "fades, but a register's output is on or off"
    std::string advice;
};

/// A fade or a dimmed light on a register's output, registers of two brightnesses, brightness on a pin
/// without a timer's output, register lines on pins that can't drive them. What is not known is left alone,
/// and so are names that the chip doesn't have (see unknown_pins()).
std::vector<OutputBreach> output_breaches(const Board& board, const Lamps& lamps);

/// Names in the group's pins that are no pin of the chip; of a group behind registers none.
std::vector<std::string> unknown_pins(const LampGroup& group);

/// It is lit at a brightness that is neither dark nor full, or comes to full by degrees.
bool needs_pwm(const core::LampGroup& plays);

} // namespace winkhold::bike
