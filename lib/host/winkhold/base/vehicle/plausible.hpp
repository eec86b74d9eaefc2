/// Values that no bike and no part has: a slip of the unit or of the decimal point.
#pragma once

#include "winkhold/base/vehicle/vehicle.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace winkhold::base {

/// What a field of a bike or its parts usually holds: common practice, no source. A check's own limit may be
/// far narrower.
struct Usual {
    std::string_view section;
    std::string_view key;
    double least;
    double most;
    std::string_view unit; ///< "ms" for durations; empty: a number of things
    bool or_none{false};   ///< 0 is right, too: it means none
};

/// Every figure of a bike and its parts. Our own choices (decoder, simulated faults, seeds) have none.
std::span<const Usual> usual_values();

/// A field outside of it.
struct Implausible {
    std::string field; ///< as in Vehicle::given(): "lamps.2.led_ma"
    Vehicle::Place place;
    Usual usual;
    double value; ///< the worst, where the field is a list. Unit: that of `usual`
    /// True: below the least.
    bool is_low() const { return value < usual.least; }
};

/// This field, if it is given and outside. What can't be read at all is for the section's reader to refuse.
std::optional<Implausible> implausible(const Vehicle& vehicle, const std::string& field);
/// All of the vehicle, in the order of usual_values().
std::vector<Implausible> implausible_fields(const Vehicle& vehicle);

/// "usual: 1 to 1000 mA; look at number and unit"
std::string advice_on(const Implausible& one);

} // namespace winkhold::base
