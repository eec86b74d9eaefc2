/// What the verdict of an inspection and the hints beside an answer say alike.
#pragma once

#include "winkhold/taps/inspect/inspect.hpp"

#include <string>

namespace winkhold::taps {

/// That lines are upside down; empty if none is.
std::string polarity_remark(const Inspection& seen);

/// How noisy a line is, and where to look; empty if it is not.
std::string noise_remark(const LineView& line, core::Side side);

} // namespace winkhold::taps
