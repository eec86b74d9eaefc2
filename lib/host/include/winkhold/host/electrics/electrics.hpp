/// `winkhold electrics`: everything a vehicle file says about currents, judged.
#pragma once

#include "winkhold/host/electrics/check.hpp"
#include "winkhold/host/electrics/front_end_figures.hpp"
#include "winkhold/host/electrics/supply.hpp"

namespace winkhold::host {

struct Electrics {
    std::string vehicle;
    std::vector<GroupLoad> groups; ///< as [[lamps]] stand in the file
    std::vector<PinLoad> pins;
    std::optional<FrontEndFigures> front_end; ///< none if not known
    std::optional<double> standby_days;       ///< until 80 % of the battery is used
    Checks checks;

    bool has_findings() const;
};

/// Reads [front_end], [board], [battery], [flasher_load] and [[lamps]] and judges them. What a section would
/// be needed for and is not there is not judged. Throws InputError (file:line, field).
Electrics judge_electrics(const std::string& path);

} // namespace winkhold::host
