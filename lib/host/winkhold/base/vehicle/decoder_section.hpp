/// The [decoder] section: settings that somebody chose for a bike, a case or a bench.
#pragma once

#include "winkhold/base/vehicle/section_edit.hpp"
#include "winkhold/base/vehicle/vehicle.hpp"
#include "winkhold/core/settings.hpp"

namespace winkhold::base {

/// The [decoder] sections of the vehicle's files over `base`; `base` itself without any. Throws InputError
/// (file:line, field): unknown field, out of range, settings that the core's check() refuses together.
core::Settings decoder_settings(const Vehicle& vehicle, const core::Settings& base);

/// The [decoder] section of any TOML file over `base`; what else stands in the file is not looked at. Throws
/// InputError as above, and if there is no such section.
core::Settings read_settings(const std::string& path, const core::Settings& base);

/// What makes the [decoder] of a vehicle whose settings are `before` say `after`: only what differs.
std::vector<FieldEdit> decoder_edits(const core::Settings& before, const core::Settings& after);

} // namespace winkhold::base
