/// `winkhold sweep`: the curve, the choice and what it costs.
#pragma once

#include "winkhold/base/vehicle/section_edit.hpp"
#include "winkhold/measure/sweep/sweep.hpp"

#include <string>

namespace winkhold::measure {

/// For people: at most 80 columns, with a small curve drawn in characters.
std::string sweep_text(const Sweep& sweep, const std::string& title);

/// Schema winkhold.sweep/1, documented in apps/winkhold/README.md. Ends with a newline.
std::string sweep_json(const Sweep& sweep);

/// One row a value, the same figures as the JSON's curve.
std::string sweep_csv(const Sweep& sweep);

/// The settings that were swept with the chosen value, as [decoder] of a vehicle whose own are `before`: what
/// differs. Empty without a choice.
std::vector<FieldEdit> choice_edits(const Sweep& sweep, const core::Settings& before);

} // namespace winkhold::measure
