/// `winkhold electrics`: everything a vehicle file says about currents, judged.
#pragma once

#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/bike/electrics/check.hpp"
#include "winkhold/bike/electrics/front_end_figures.hpp"
#include "winkhold/bike/electrics/supply.hpp"

namespace winkhold::bike {

/// All groups that one line of the bike lights, at full brightness; turn lamps of both sides count for
/// either.
struct LineTotal {
    std::string_view line; ///< "left turn", "right turn", "stop", "tail", "marker"
    double nominal_ma{0};
    double most_ma{0};
    bool all_known{true};
};

/// Every current and voltage that follows from the file, and what was judged of it.
struct Electrics {
    std::string vehicle;
    StillExample still_example;
    std::vector<std::string> warnings{}; ///< lamp_warnings()
    std::vector<GroupLoad> groups;       ///< as [[lamps]] stand in the file
    std::vector<PinLoad> pins;
    std::vector<LineTotal> lines;             ///< those that light any group
    std::optional<FrontEndFigures> front_end; ///< none if not known
    std::optional<double> standby_days;       ///< until 80 % of the battery is used
    Checks checks;

    /// Any check has failed.
    bool has_findings() const;
};

/// Judges [front_end], [board], [battery], [flasher_load] and [[lamps]]. What a section would
/// be needed for and is not there is not judged, nor what rests on a default, on a value of the example, or
/// on one that no real part has; that one is a finding of its own. Throws InputError (file:line, field).
Electrics judge_electrics(const Vehicle& vehicle);

} // namespace winkhold::bike
