#include "vehicle/vehicle_files.hpp"

#include "vehicle/embedded_texts.hpp"
#include "vehicle/toml_fields.hpp"

#include <array>
#include <filesystem>
#include <fmt/format.h>

namespace winkhold::host {
namespace {

namespace fs = std::filesystem;

constexpr std::array sections{"vehicle", "flasher",      "lines",    "volts", "rider",     "clock",
                              "decoder", "fault",        "sequence", "lamps", "front_end", "board",
                              "battery", "flasher_load", "wires",    "keep",  "measured"};

constexpr int most_files = 5;

void refuse_unknown(const std::string& path, const toml::table& root) {
    TomlFields fields(path, "", root);
    for (const char* section : sections)
        fields.node(section);
    fields.node("variant");
    for (const auto& [key, value] : root) {
        const bool is_list = value.is_array_of_tables();
        if (!is_list && !value.is_table())
            throw InputError(at_line(path, value.source().begin.line,
                                     fmt::format("{}: belongs into a section like [flasher]", key.str())));
    }
    fields.done();
}

void read_file(const std::string& path, VehicleFiles& read, int depth);

void read_root(const std::string& path, toml::table root, VehicleFiles& read, int depth) {
    refuse_unknown(path, root);
    in_section(path, root, "vehicle", [&](TomlFields& fields) {
        std::string base;
        fields.text("file", base);
        if (!base.empty()) {
            if (depth + 1 >= most_files)
                fields.refuse("file", *fields.node("file"), "vehicle files name each other in a circle");
            read_file((fs::path(path).parent_path() / base).string(), read, depth + 1);
        }
        fields.text("name", read.name);
        fields.text("kind", read.kind);
        fields.text("place", read.place);
    });
    read.files.push_back({path, std::move(root)});
}

void read_file(const std::string& path, VehicleFiles& read, int depth) {
    read_root(path, parse_toml(path), read, depth);
}

} // namespace

VehicleFiles read_vehicle_files(const std::string& path) {
    VehicleFiles read;
    read_file(path, read, 0);
    if (read.name.empty()) read.name = fs::path(path).stem().string();
    return read;
}

VehicleFiles demo_vehicle() {
    constexpr std::string_view name = "vehicles/demo.toml";
    VehicleFiles read;
    for (const EmbeddedText& embedded : embedded_texts())
        if (embedded.name == name) read_root(std::string(name), toml::parse(embedded.text, name), read, 0);
    return read;
}

} // namespace winkhold::host
