/// A vehicle file to begin with: the demo bike's, commented, which the library carries along.
#pragma once

#include "winkhold/base/wings.hpp"

#include <string>

namespace winkhold::base {

/// What of the demo bike goes into the file.
enum class NewVehicle {
    example, ///< all of it, each table marked `example = true`
    empty,   ///< headings and comments alone
};

/// The demo's text under another name; its own if `name` is empty. Throws InputError for a name that doesn't
/// fit one line of text.
std::string new_vehicle_text(const std::string& name, NewVehicle what);

} // namespace winkhold::base
