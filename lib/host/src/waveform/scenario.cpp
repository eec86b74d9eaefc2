#include "winkhold/host/waveform/scenario.hpp"

#include "vehicle/toml_fields.hpp"
#include "vehicle/vehicle_files.hpp"
#include "waveform/scenario_sections.hpp"
#include "winkhold/host/settings_text.hpp"

#include <fmt/format.h>

namespace winkhold::host {
namespace {

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

/// All sections that a variant may change, too; `of` leads their names in messages.
void read_sections(const std::string& path, const toml::table& root, const std::string& of,
                   Scenario& scenario) {
    const auto section = [&](const char* name, auto&& read) {
        in_section(path, root, name, read, of + name);
    };
    section("flasher", [&](TomlFields& f) { read_flasher(f, scenario.flasher); });
    section("lines", [&](TomlFields& f) { read_lines(path, f, scenario.contacts, scenario.taps); });
    section("volts", [&](TomlFields& f) { read_volts(f, scenario.volts); });
    section("rider", [&](TomlFields& f) { read_rider(path, f, scenario.rider); });
    section("clock", [&](TomlFields& f) { read_clock(f, scenario.clock); });
    section("decoder", [&](TomlFields& f) { read_decoder(f, scenario.decoder); });
}

} // namespace

Scenario read_scenario(const std::string& path) {
    const VehicleFiles vehicle = read_vehicle_files(path);
    Scenario scenario;
    scenario.name = vehicle.name;
    for (const VehicleFile& file : vehicle.files)
        read_sections(file.path, file.root, "", scenario);
    if (scenario.rider.script.empty())
        throw InputError(at_line(path, 0,
                                 "[rider] script: missing; say what the rider asks for, like "
                                 "script = [{ show = \"left\", flashes = [4, 9] }]"));
    return scenario;
}

std::vector<Variant> read_variants(const std::string& path) {
    const Scenario base = read_scenario(path);
    const toml::table root = parse_toml(path);
    const toml::node* node = root.get("variant");
    if (node == nullptr) return {{"", base}};
    const toml::array* list = node->as_array();
    if (list == nullptr || !list->is_array_of_tables())
        throw InputError(at_line(path, node->source().begin.line, "write each variant as [[variant]]"));
    std::vector<Variant> variants;
    for (const toml::node& one : *list) {
        Variant& variant = variants.emplace_back(Variant{"", base});
        TomlFields fields(path, "variant", *one.as_table());
        fields.text("name", variant.name);
        if (variant.name.empty()) fields.refuse("name", one, "missing; say what is different");
        for (const char* section : {"flasher", "lines", "volts", "rider", "clock", "decoder", "fault"})
            fields.node(section);
        fields.done();
        read_sections(path, *one.as_table(), "variant.", variant.scenario);
    }
    return variants;
}

core::Settings read_settings(const std::string& path, const core::Settings& base) {
    const toml::table root = parse_toml(path);
    if (!root.contains("decoder"))
        throw InputError(at_line(path, 0, "no [decoder] section; put settings like hold = \"760ms\" there"));
    core::Settings settings = base;
    in_section(path, root, "decoder", [&](TomlFields& f) { read_decoder(f, settings); });
    return settings;
}

core::Settings read_vehicle_settings(const std::string& path, const core::Settings& base) {
    core::Settings settings = base;
    for (const VehicleFile& file : read_vehicle_files(path).files)
        in_section(file.path, file.root, "decoder", [&](TomlFields& f) { read_decoder(f, settings); });
    return settings;
}

} // namespace winkhold::host
