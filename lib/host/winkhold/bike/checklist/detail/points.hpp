/// The points of a bring-up checklist, worked out from what the vehicle file says.
#pragma once

#include "winkhold/bike/checklist/checklist.hpp"
#include "winkhold/bike/electrics/front_end_figures.hpp"
#include "winkhold/bike/wiring/check.hpp"

namespace winkhold::bike {

struct BikeFacts {
    const Wiring& wiring;
    const Lamps& lamps;
    const Loads& loads;
    const core::Settings& decoder;
    std::optional<FrontEndFigures> front_end; ///< none: not known
    std::optional<double> sleep_ma;           ///< the board's, parked
    std::optional<double> stop_lamp_ms;       ///< from the brake to its lamps, at most, wherever one rides
};

/// Taps that wires come from, in the order in which the program names lines.
std::vector<std::string_view> tapped_lines(const Wiring& wiring);

bool has_job(const Lamps& lamps, core::Job job);

std::vector<CheckPoint> check_points(const BikeFacts& bike);

/// Steps back to the factory's state. restore.cpp
std::vector<std::string> restore_steps(const Wiring& wiring, const Lamps& lamps);

} // namespace winkhold::bike
