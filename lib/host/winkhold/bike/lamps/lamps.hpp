/// The lamps of a vehicle: the [[lamps]] tables of its file. One reader for all that look at them: how they
/// play, what they draw, where they are.
#pragma once

#include "winkhold/base/vehicle/vehicle.hpp"
#include "winkhold/core/lamps.hpp"

#include <optional>
#include <string>
#include <vector>

namespace winkhold::bike {

/// Where on the vehicle, as `at` has it.
enum class LampEnd { front, rear };
/// What the lamp shows, as `colour` has it.
enum class LampColour { amber, red, white };
/// What sets a string's current, as `feed` has it.
enum class LampFeed { resistor, constant_current };
/// What switches a group, as `driver` has it.
enum class LampDriver { pin, transistor, shift_register };

/// One table. What is optional may be left out of the file; whoever needs it says "not known".
struct LampGroup {
    std::string name;  ///< unique
    std::string where; ///< "file:line: [lamps] name", to begin messages with
    /// Job, side, count, pattern, brightness: passes core::check().
    core::LampGroup plays;
    std::optional<LampEnd> at;

    std::optional<LampColour> colour;
    std::optional<double> led_v;  ///< forward voltage of one LED. Unit: V
    std::optional<double> led_ma; ///< current of one string at full brightness. Unit: mA
    std::optional<int> in_series; ///< LEDs of one string
    std::optional<LampFeed> feed;
    std::optional<LampDriver> driver;
    std::vector<std::string> pins;  ///< of the board, as the user calls them; one a string, or shared
    std::optional<int> awg;         ///< gauge of the wire to the group
    std::optional<double> length_m; ///< of that wire, one way

    std::optional<double> gap_mm;   ///< largest gap between neighbouring lamps
    std::optional<double> width_mm; ///< of the lit area
    std::optional<double> height_mm;

    std::optional<double> across_mm;    ///< turn: from its inner edge to the other side's at the same end
    std::optional<double> headlamp_mm;  ///< front turn: from its edge to the headlamp's
    std::optional<double> stop_lamp_mm; ///< rear turn: from its edge to the nearest of a stop or tail lamp
    std::optional<double> low_edge_mm;  ///< lower edge of the lit area above the ground
    std::optional<double> high_edge_mm; ///< and its upper edge
    std::optional<double> ahead_of_rear_mm; ///< rear turn: so far ahead of the vehicle's rearmost point
};

/// In the order of the file.
using Lamps = std::vector<LampGroup>;

/// The vehicle's [[lamps]]; the last of its files that has any gives all of them. Empty if none has any.
/// Throws InputError (file:line, field): missing name, job, side or count; a name given twice; unknown field;
/// out of range; a pattern that core::check() refuses; over 255 groups or 4096 lamps in all.
Lamps lamps_of(const Vehicle& vehicle);

} // namespace winkhold::bike
