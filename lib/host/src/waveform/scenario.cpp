#include "winkhold/host/waveform/scenario.hpp"

#include "waveform/toml_fields.hpp"
#include "winkhold/host/settings_text.hpp"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>

namespace winkhold::host {
namespace {

namespace fs = std::filesystem;
using core::Indication;

toml::table parse_toml(const std::string& path) {
    std::error_code error;
    if (!fs::exists(path, error)) throw InputError(at_line(path, 0, "no such file"));
    if (fs::is_directory(path, error))
        throw InputError(at_line(path, 0, "is a folder, not a file; name a .toml file in it"));
    try {
        return toml::parse_file(path);
    } catch (const toml::parse_error& e) {
        throw InputError(
            at_line(path, e.source().begin.line, fmt::format("not valid TOML: {}", e.description())));
    }
}

/// Calls read(fields) for the section if it is there.
template <class Read>
void in_section(const std::string& file, const toml::table& root, std::string_view name, Read&& read) {
    const toml::node* node = root.get(name);
    if (node == nullptr) return;
    const toml::table* table = node->as_table();
    if (table == nullptr)
        throw InputError(
            at_line(file, node->source().begin.line, fmt::format("write [{}] as a section", name)));
    TomlFields fields(file, std::string(name), *table);
    read(fields);
    fields.done();
}

void read_flasher(TomlFields& fields, FlasherModel& flasher) {
    fields.range("rate_per_min", 10, 600, flasher.rate_per_min);
    fields.range("duty_percent", 1, 99, flasher.duty_percent);
    fields.number("jitter_percent", 0, 30, flasher.jitter_percent);
    fields.duration("start_delay", 10'000'000, flasher.start_delay_us);
    fields.duration("first_on_extra", 10'000'000, flasher.first_on_extra_us);
    fields.duration("first_dark", 10'000'000, flasher.first_dark_us);
    fields.whole("lamp_out_after_flashes", 0, 1'000'000, flasher.lamp_out_after_flashes);
    fields.number("lamp_out_rate_factor", 0.2, 5, flasher.lamp_out_rate_factor);
    fields.number("lamp_out_duty_percent", 1, 99, flasher.lamp_out_duty_percent);
    std::string model;
    fields.text("side_change", model);
    if (model == "restart" || model.empty())
        flasher.side_change = model.empty() ? flasher.side_change : SideChange::restart;
    else if (model == "free-running")
        flasher.side_change = SideChange::free_running;
    else if (model == "whole-cycle")
        flasher.side_change = SideChange::whole_cycle;
    else
        fields.refuse("side_change", *fields.node("side_change"),
                      fmt::format("\"{}\" is no model; write restart, free-running or whole-cycle", model));
}

void read_lines(TomlFields& fields, ContactModel& contacts) {
    fields.duration("bounce", 100'000, contacts.bounce_us);
    fields.whole("bounce_pulses", 0, 20, contacts.bounce_pulses);
    fields.duration_range("rise_skew", 500'000, contacts.rise_skew_us);
    fields.duration_range("fall_skew", 500'000, contacts.fall_skew_us);
}

Indication read_indication(TomlFields& fields) {
    constexpr std::string_view names[] = {"off", "left", "right", "hazard"};
    std::string text;
    fields.text("show", text);
    const auto found = std::find(std::begin(names), std::end(names), text);
    const toml::node* node = fields.node("show");
    if (found == std::end(names))
        fields.refuse("show", node != nullptr ? *node : static_cast<const toml::node&>(fields.table()),
                      "write show = \"off\", \"left\", \"right\" or \"hazard\"");
    return static_cast<Indication>(found - std::begin(names));
}

void read_rider(const std::string& file, TomlFields& fields, RiderModel& rider) {
    fields.duration("transit", 10'000'000, rider.transit_us);
    fields.whole("repeat", 1, 1'000'000, rider.repeat);
    const toml::node* script = fields.node("script");
    if (script == nullptr) return;
    const toml::array* steps = script->as_array();
    if (steps == nullptr || steps->empty())
        fields.refuse("script", *script, "write a list of steps, like [{ show = \"left\", flashes = 5 }]");
    rider.script.clear();
    for (const toml::node& node : *steps) {
        if (!node.is_table()) fields.refuse("script", node, "each step is { show = ..., flashes = ... }");
        TomlFields step(file, "rider.script", *node.as_table());
        RiderStep& read = rider.script.emplace_back();
        read.show = read_indication(step);
        step.range("flashes", 0, 1'000'000, read.flashes);
        step.duration_range("for", 86'400'000'000, read.for_us);
        read.by_flashes = step.has("flashes");
        if (read.by_flashes == step.has("for"))
            step.refuse(read.by_flashes ? "for" : "flashes", node, "give either flashes or for");
        step.done();
    }
}

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

void read_into(const std::string& path, Scenario& scenario, int depth) {
    const toml::table root = parse_toml(path);
    TomlFields sections(path, "", root);
    in_section(path, root, "vehicle", [&](TomlFields& fields) {
        fields.text("name", scenario.name);
        std::string other;
        fields.text("file", other);
        if (other.empty()) return;
        if (depth >= 4)
            fields.refuse("file", *fields.node("file"), "vehicle files name each other in a circle");
        const std::string name = scenario.name;
        read_into((fs::path(path).parent_path() / other).string(), scenario, depth + 1);
        if (!name.empty()) scenario.name = name;
    });
    in_section(path, root, "flasher", [&](TomlFields& f) { read_flasher(f, scenario.flasher); });
    in_section(path, root, "lines", [&](TomlFields& f) { read_lines(f, scenario.contacts); });
    in_section(path, root, "rider", [&](TomlFields& f) { read_rider(path, f, scenario.rider); });
    in_section(path, root, "decoder", [&](TomlFields& f) { read_decoder(f, scenario.decoder); });
    for (const char* name : {"vehicle", "flasher", "lines", "rider", "decoder"})
        sections.node(name);
    for (const auto& [key, value] : root)
        if (!root.get(key.str())->is_table())
            throw InputError(at_line(path, value.source().begin.line,
                                     fmt::format("{}: belongs into a section like [flasher]", key.str())));
    sections.done();
}

} // namespace

Scenario read_scenario(const std::string& path) {
    Scenario scenario;
    read_into(path, scenario, 0);
    if (scenario.rider.script.empty())
        throw InputError(at_line(path, 0,
                                 "[rider] script: missing; say what the rider asks for, like "
                                 "script = [{ show = \"left\", flashes = [4, 9] }]"));
    if (scenario.name.empty()) scenario.name = fs::path(path).stem().string();
    return scenario;
}

core::Settings read_settings(const std::string& path, const core::Settings& base) {
    const toml::table root = parse_toml(path);
    if (!root.contains("decoder"))
        throw InputError(at_line(path, 0, "no [decoder] section; put settings like hold = \"760ms\" there"));
    core::Settings settings = base;
    in_section(path, root, "decoder", [&](TomlFields& f) { read_decoder(f, settings); });
    return settings;
}

} // namespace winkhold::host
