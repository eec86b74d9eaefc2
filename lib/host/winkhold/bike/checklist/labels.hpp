/// Cable labels: what is written on both ends of each wire, and what the wire is.
#pragma once

#include "winkhold/bike/wiring/wires.hpp"

#include <string>

namespace winkhold::bike {

/// Each with the caution. Throw InputError as wiring_of(). A file without wires has no labels.
std::string labels_text(const Vehicle& vehicle);
/// The same, to be printed.
std::string labels_markdown(const Vehicle& vehicle);
/// RFC 4180, to print on tape: one record a wire, no other rows.
std::string labels_csv(const Vehicle& vehicle);
/// Schema winkhold.labels/1.
std::string labels_json(const Vehicle& vehicle);

} // namespace winkhold::bike
