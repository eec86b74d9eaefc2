/// What somebody measured while fitting the board: the vehicle file's [[measured]]. data/README.md
/// documents the fields.
#pragma once

#include "winkhold/base/vehicle/vehicle.hpp"

#include <optional>
#include <string>
#include <vector>

namespace winkhold::bike {

/// One entry of [[measured]]: a value, or that something is done.
struct Measurement {
    std::string what; ///< id of a point of the checklist, or a name of the user's own
    /// One of the two is there.
    std::optional<double> value; ///< in the point's unit
    std::optional<bool> done;    ///< for points of yes or no
    /// Own points bring their limits; a value equal to one passes.
    std::optional<double> least;
    std::optional<double> most;
    std::string unit;
    std::string with; ///< the instrument, or eyes; empty: not said
    std::string on;   ///< the day, "2026-03-14" (ISO 8601); empty: not said
    std::string by;
    std::string note;
    std::string where; ///< file:line
    /// The day on which that file was last written, where on Earth it is latest; empty: not known. Nothing
    /// that stands in it can have been measured after that.
    std::string written;

    /// It brings what a point of the user's own is held to.
    bool has_limits() const { return least || most; }
};

/// In the order of the file. Throws InputError: fields that don't fit,
/// neither or both of value and done, something measured twice.
std::vector<Measurement> measurements_of(const Vehicle& vehicle);

} // namespace winkhold::bike
