/// The parsed files of a vehicle, for the readers of its sections.
#pragma once

#include "winkhold/base/vehicle/detail/toml_fields.hpp"
#include "winkhold/base/vehicle/vehicle.hpp"

#include <map>

namespace winkhold::base {

struct VehicleFile {
    std::string path;
    toml::table root;
    std::string text;
};

struct Vehicle::Parts {
    std::string path;
    std::string name;
    std::string kind;
    std::string place;
    std::vector<File> files;
    std::vector<VehicleFile> parsed; ///< in the order of `files`
};

const Vehicle::Parts& parts_of(const Vehicle& vehicle);

/// A value that holds and the file that gives it; both null: nobody gives it.
struct FieldNode {
    const VehicleFile* file{nullptr};
    const toml::node* node{nullptr};
};
/// Of a field or section as Vehicle::given() names them.
FieldNode field_node(const Vehicle& vehicle, std::string_view field);

inline const std::vector<VehicleFile>& files_of(const Vehicle& vehicle) {
    return parts_of(vehicle).parsed;
}

/// Calls read(fields) for the section of each file that has it, in order: later ones override.
template <class Read>
void for_section(const Vehicle& vehicle, std::string_view name, Read&& read) {
    for (const VehicleFile& file : files_of(vehicle))
        in_section(file.path, file.root, name, read);
}

/// Calls read(fields, path) for each table of a list like [[wires]], of the last file that has any.
template <class Read>
void for_each_table(const Vehicle& vehicle, std::string_view name, Read&& read) {
    const std::vector<VehicleFile>& files = files_of(vehicle);
    for (auto file = files.rbegin(); file != files.rend(); ++file)
        if (file->root.contains(name))
            return in_each_table(file->path, file->root, name,
                                 [&](TomlFields& fields) { read(fields, file->path); });
}

} // namespace winkhold::base
