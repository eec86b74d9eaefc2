/// A vehicle file to begin with: the demo bike's, commented, which the library carries along.
#pragma once

#include "winkhold/base/wings.hpp"

#include <string>

namespace winkhold::base {

/// The demo's text under another name; its own if `name` is empty. Throws InputError for a name that doesn't
/// fit one line of text.
std::string new_vehicle_text(const std::string& name);

} // namespace winkhold::base
