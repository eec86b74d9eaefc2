/// A vehicle file and those it builds on. Everything the bench knows of a bike stands in them, a part of it
/// in each section; this is what the readers of all sections share.
#pragma once

#include <string>
#include <toml++/toml.h>
#include <vector>

namespace winkhold::host {

struct VehicleFile {
    std::string path;
    toml::table root;
};

struct VehicleFiles {
    std::string name;  ///< the file's own if it has none
    std::string kind;  ///< "motorcycle", "moped", ...: which limits hold
    std::string place; ///< where it is ridden
    /// In the order to read them: each overrides what stands before it.
    std::vector<VehicleFile> files;
};

/// Follows `[vehicle] file = "..."`, relative to the file that says so. Throws InputError: missing, not TOML,
/// files that name each other in a circle, sections that no part of Winkhold reads.
VehicleFiles read_vehicle_files(const std::string& path);

/// data/vehicles/demo.toml, which the library carries along.
VehicleFiles demo_vehicle();

} // namespace winkhold::host
