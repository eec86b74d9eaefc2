/// `winkhold sweep`: the curve, the choice and what it costs.
#pragma once

#include "winkhold/measure/sweep/sweep.hpp"

#include <string>

namespace winkhold::measure {

/// For people: at most 80 columns, with a small curve drawn in characters.
std::string sweep_text(const Sweep& sweep, const std::string& title);

/// Schema winkhold.sweep/1, documented in the README. Ends with a newline.
std::string sweep_json(const Sweep& sweep);

/// One row a value, the same figures as the JSON's curve.
std::string sweep_csv(const Sweep& sweep);

} // namespace winkhold::measure
