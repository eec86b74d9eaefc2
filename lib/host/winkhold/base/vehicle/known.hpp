/// Does anybody who knows this bike say the values that a judgement rests on?
#pragma once

#include "winkhold/base/vehicle/vehicle.hpp"

#include <span>
#include <string>
#include <vector>

namespace winkhold::base {

/// What keeps a judgement from being made, as a clause for people: "enter [flasher] start_delay"; "[flasher]
/// (bike.toml:14) is still the example's"; "[board] tvs_v can't be right". Empty if the owner says all of
/// `fields` ("flasher.start_delay", or a whole section), and none is implausible().
std::string why_not_known(const Vehicle& vehicle, std::span<const std::string> fields);

/// The head of each screen of a vehicle that still has values of the example: a sentence that names the
/// sections and says what to do. Empty if there are none.
std::string example_notice(const Vehicle& vehicle);

/// The same for a report to carry along.
struct StillExample {
    std::string notice;                ///< example_notice()
    std::vector<std::string> sections; ///< their names, each once, in the order of the files
};
/// Of this vehicle.
StillExample still_example(const Vehicle& vehicle);

/// "[flasher] rate_per_min", "[[lamps]] (2nd) led_v": a field as people find it.
std::string field_text(std::string_view field);

} // namespace winkhold::base
