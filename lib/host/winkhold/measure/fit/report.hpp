/// `winkhold fit`: a bike's flasher from its recording.
#pragma once

#include "winkhold/base/vehicle/section_edit.hpp"
#include "winkhold/measure/fit/fit.hpp"

namespace winkhold::measure {

/// For people: at most 80 columns.
std::string fit_text(const BikeFit& fit, const std::string& title);

/// Schema winkhold.fit/1, documented in apps/winkhold/README.md. Ends with a newline.
std::string fit_json(const BikeFit& fit, const std::string& title);

/// How a scenario treats what is not quite known.
enum class Unsure {
    likeliest, ///< the most likely values, intervals beside them as comments
    cautious,  ///< rate and duty as ranges, and the upper ends of jitter and bounce
};

/// A scenario that scenario_of() takes, with a general ride. Its intervals stand in comments.
std::string fit_scenario(const BikeFit& fit, const std::string& name, Unsure unsure);

/// What the fit says of [flasher] and [lines], to be put into a vehicle file.
std::vector<FieldEdit> fit_edits(const BikeFit& fit, Unsure unsure);

/// What no recording of this kind can tell, or this one did not, one sentence each.
std::vector<std::string> open_questions(const BikeFit& fit);

} // namespace winkhold::measure
