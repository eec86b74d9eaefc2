/// What is written whole or not at all grows beside its place, and takes that when it is done.
#pragma once

#include "winkhold/base/wings.hpp"

#include <filesystem>
#include <string>
#include <sys/stat.h>

namespace winkhold::base {

/// A name in the same folder for mkostemp() or mkdtemp(), which put letters of their own in place of the X.
inline std::string name_beside(const std::filesystem::path& place) {
    return (place.parent_path() / ("." + place.filename().string() + ".part-XXXXXX")).string();
}

/// Permissions that the user takes away from new files.
inline mode_t masked_permissions() {
    const mode_t mask = ::umask(0);
    ::umask(mask);
    return mask;
}

} // namespace winkhold::base
