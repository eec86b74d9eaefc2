#include "winkhold/base/vehicle/decoder_section.hpp"

#include "winkhold/base/settings_text.hpp"
#include "winkhold/base/vehicle/detail/decoder_fields.hpp"
#include "winkhold/base/vehicle/detail/vehicle_files.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::base {

void read_decoder(TomlFields& fields, core::Settings& settings) {
    for (const NamedSetting& named : named_settings) {
        std::string text;
        if (fields.any_as_text(named.name, text))
            set_by_name(settings, named.name, text, fields.where(named.name, *fields.node(named.name)));
    }
    try {
        check_settings(settings);
    } catch (const InputError& error) {
        throw InputError(fmt::format("{}: {}", fields.where("", fields.table()), error.what()));
    }
}

core::Settings decoder_settings(const Vehicle& vehicle, const core::Settings& base) {
    core::Settings settings = base;
    for_section(vehicle, "decoder", [&](TomlFields& fields) { read_decoder(fields, settings); });
    return settings;
}

core::Settings read_settings(const std::string& path, const core::Settings& base) {
    const toml::table root = parse_toml(path);
    if (!root.contains("decoder"))
        throw InputError(at_line(path, 0, "no [decoder] section; put settings like hold = \"760ms\" there"));
    core::Settings settings = base;
    in_section(path, root, "decoder", [&](TomlFields& fields) { read_decoder(fields, settings); });
    return settings;
}

std::vector<FieldEdit> decoder_edits(const core::Settings& before, const core::Settings& after) {
    std::vector<FieldEdit> edits;
    for (const NamedSetting& named : named_settings) {
        std::string value = value_text(after, named.name);
        if (value == value_text(before, named.name)) continue;
        value.erase(std::remove(value.begin(), value.end(), ' '), value.end()); // as it is typed: "40ms"
        edits.push_back({"decoder", std::string(named.name), fmt::format("\"{}\"", value)});
    }
    return edits;
}

} // namespace winkhold::base
