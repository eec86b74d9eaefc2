/// `winkhold pack`: all that it takes to put one vehicle's settings onto its board, and nothing else.
#pragma once

#include "winkhold/base/vehicle/vehicle.hpp"

#include <string>
#include <vector>

namespace winkhold::bike {

/// Whose firmware it is for.
enum class PackKind {
    firmware, ///< the board's, as a whole: sources, self-test, makefile, sheet
    headers,  ///< somebody's own: the core and bike.hpp, with an example
};

/// One file of a pack.
struct PackedFile {
    std::string path; ///< within the pack's folder, with '/'
    std::string text;
};

/// In the order of their paths.
struct Pack {
    std::uint32_t hash{0}; ///< of the vehicle's files, as bike.hpp has it
    std::vector<PackedFile> files;
};

/// The same vehicle files (under the same names, wherever they lie) and the same version give the same bytes.
/// `version` says who wrote it, like "winkhold 1.2.3". Throws InputError (file:line, field): as the readers
/// of the sections; a section of the example; settle above 20 ms or hold above 1.2 s; what outputs can't do
/// (see output_breaches()); two groups on one output; taps and lamps on pins that can't serve them; more
/// registers than can be sent within 1 ms; whatever it takes that the file doesn't say.
Pack pack_of(const Vehicle& vehicle, PackKind kind, const std::string& version);

} // namespace winkhold::bike
