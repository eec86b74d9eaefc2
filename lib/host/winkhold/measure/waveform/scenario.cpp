#include "winkhold/measure/waveform/scenario.hpp"

#include "winkhold/base/vehicle/detail/decoder_fields.hpp"
#include "winkhold/base/vehicle/detail/vehicle_files.hpp"
#include "winkhold/measure/waveform/detail/ride_size.hpp"
#include "winkhold/measure/waveform/detail/scenario_sections.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::measure {
void read_sections(const std::string& path, const toml::table& root, const std::string& of,
                   Scenario& scenario) {
    const auto section = [&](const char* name, auto&& read) {
        in_section(path, root, name, read, of + name);
    };
    section("flasher", [&](TomlFields& f) { read_flasher(path, f, scenario.flasher); });
    section("lines", [&](TomlFields& f) { read_lines(path, f, scenario.contacts, scenario.taps); });
    section("volts", [&](TomlFields& f) { read_volts(f, scenario.volts); });
    section("front_end", [&](TomlFields& f) { read_volts_front_end(f, root.get("volts"), scenario.volts); });
    section("rider", [&](TomlFields& f) { read_rider(path, f, scenario.rider); });
    section("clock", [&](TomlFields& f) { read_clock(f, scenario.clock); });
    section("decoder", [&](TomlFields& f) { read_decoder(f, scenario.decoder); });
}

void refuse_decoder(const std::string& path, const toml::table& table, const char* what) {
    if (const toml::node* node = table.get("decoder"))
        throw InputError(
            at_line(path, node->source().begin.line, fmt::format("[decoder] doesn't belong into {}", what)));
}

namespace {

/// The rider's requests may be none yet.
Scenario without_ride(const Vehicle& vehicle) {
    Scenario scenario;
    scenario.name = vehicle.name();
    for (const VehicleFile& file : files_of(vehicle))
        read_sections(file.path, file.root, "", scenario);
    check_front_end(scenario.volts);
    return scenario;
}

/// Throws InputError, naming the field that makes most of it, for a ride that memory would not hold.
void refuse_endless(const Vehicle& vehicle, const Scenario& scenario) {
    const RideSize size = size_of(scenario);
    if (size.edges <= most_edges) return;
    const auto place = vehicle.given(size.field);
    const std::size_t dot = size.field.find('.');
    throw InputError(
        at_line(place ? place->file : vehicle.path(), place ? place->line : 0,
                fmt::format("[{}] {}: makes a ride of some {:.2g} level changes, mostly by this; a ride has "
                            "{:.2g} at most. Make it shorter, or this rarer",
                            size.field.substr(0, dot), size.field.substr(dot + 1), size.edges, most_edges)));
}

} // namespace

Scenario scenario_of(const Vehicle& vehicle) {
    Scenario scenario = without_ride(vehicle);
    if (scenario.rider.script.empty())
        throw InputError(at_line(vehicle.path(), 0,
                                 "[rider] script: missing; say what the rider asks for, like "
                                 "script = [{ show = \"left\", flashes = [4, 9] }]"));
    refuse_endless(vehicle, scenario);
    return scenario;
}

Scenario scenario_or_demo_ride(const Vehicle& vehicle) {
    const std::vector<VehicleFile>& files = files_of(vehicle);
    const bool has_rider = std::any_of(files.begin(), files.end(), [](const VehicleFile& file) {
        const toml::node* rider = file.root.get("rider");
        return rider != nullptr && (!rider->is_table() || says_anything(*rider->as_table()));
    });
    if (has_rider) return scenario_of(vehicle);
    Scenario scenario = without_ride(vehicle);
    scenario.rider = scenario_of(Vehicle::demo()).rider;
    refuse_endless(vehicle, scenario);
    return scenario;
}

std::vector<Variant> variants_of(const Vehicle& vehicle) {
    const Scenario base = scenario_of(vehicle);
    const VehicleFile& own = files_of(vehicle).back();
    if (!own.root.contains("variant")) return {{"", base}};
    std::vector<Variant> variants;
    in_each_table(own.path, own.root, "variant", [&](TomlFields& fields) {
        Variant& variant = variants.emplace_back(Variant{"", base});
        fields.text("name", variant.name);
        if (variant.name.empty()) fields.refuse("name", fields.table(), "missing; say what is different");
        for (const char* section : {"flasher", "lines", "volts", "rider", "clock", "decoder", "fault"})
            fields.node(section);
        fields.done();
        read_sections(own.path, fields.table(), "variant.", variant.scenario);
        refuse_endless(vehicle, variant.scenario);
    });
    return variants;
}

} // namespace winkhold::measure
