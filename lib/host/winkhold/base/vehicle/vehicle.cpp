#include "winkhold/base/vehicle/vehicle.hpp"

#include "winkhold/base/detail/crc.hpp"
#include "winkhold/base/nearest.hpp"
#include "winkhold/base/vehicle/detail/embedded_texts.hpp"
#include "winkhold/base/vehicle/detail/vehicle_files.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <filesystem>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace winkhold::base {
namespace {

namespace fs = std::filesystem;

constexpr std::array<std::string_view, 18> sections{
    "vehicle", "flasher",   "lines", "volts",   "rider",        "clock", "decoder", "fault",    "sequence",
    "lamps",   "front_end", "board", "battery", "flasher_load", "wires", "keep",    "measured", "variant"};

constexpr int most_files = 5;

void refuse_unknown(const std::string& path, const toml::table& root) {
    for (const auto& [key, value] : root) {
        const auto refuse = [&, &key = key, &value = value](const std::string& why) {
            throw InputError(at_line(path, value.source().begin.line, fmt::format("{}{}", key.str(), why)));
        };
        if (!value.is_array_of_tables() && !value.is_table())
            refuse(": belongs into a section like [flasher]");
        if (std::find(sections.begin(), sections.end(), key.str()) == sections.end())
            refuse(fmt::format(": unknown section{}; known: {}", did_you_mean(key.str(), sections),
                               fmt::join(sections, ", ")));
    }
}

void read_format(TomlFields& fields) {
    int format = vehicle_format;
    fields.whole("format", 1, 1'000'000, format);
    if (format > vehicle_format)
        fields.refuse("format", *fields.node("format"),
                      fmt::format("the file is of format {}, this program reads up to {}; take a newer one",
                                  format, vehicle_format));
}

void add_file(Vehicle::Parts& parts, const std::string& path, int depth);

void add_text(Vehicle::Parts& parts, const std::string& path, std::string_view text, int depth) {
    toml::table root = parse_toml_text(text, path);
    refuse_unknown(path, root);
    in_section(path, root, "vehicle", [&](TomlFields& fields) {
        read_format(fields);
        std::string below;
        fields.text("file", below);
        if (!below.empty()) {
            if (depth + 1 >= most_files)
                fields.refuse("file", *fields.node("file"), "vehicle files name each other in a circle");
            add_file(parts, (fs::path(path).parent_path() / below).string(), depth + 1);
        }
        fields.text("name", parts.name);
        fields.text("kind", parts.kind);
        fields.text("place", parts.place);
    });
    parts.files.push_back({path, crc32(text)});
    parts.parsed.push_back({path, std::move(root)});
}

void add_file(Vehicle::Parts& parts, const std::string& path, int depth) {
    add_text(parts, path, read_toml_text(path), depth);
}

/// The node that a dotted name leads to, from `table` on.
const toml::node* node_at(const toml::table& table, std::string_view field) {
    const toml::node* node = &table;
    while (node != nullptr && !field.empty()) {
        const std::size_t dot = std::min(field.find('.'), field.size());
        const std::string_view part = field.substr(0, dot);
        field.remove_prefix(std::min(dot + 1, field.size()));
        if (const toml::array* list = node->as_array()) {
            std::size_t index = 0;
            const auto [end, error] = std::from_chars(part.data(), part.data() + part.size(), index);
            node = error == std::errc{} && end == part.data() + part.size() ? list->get(index) : nullptr;
        } else {
            node = node->is_table() ? node->as_table()->get(part) : nullptr;
        }
    }
    return node;
}

} // namespace

const Vehicle::Parts& parts_of(const Vehicle& vehicle) {
    return *vehicle.parts_;
}

Vehicle Vehicle::read(const std::string& path) {
    const auto parts = std::make_shared<Parts>();
    parts->path = path;
    add_file(*parts, path, 0);
    if (parts->name.empty()) parts->name = fs::path(path).stem().string();
    return Vehicle(parts);
}

Vehicle Vehicle::demo() {
    const auto parts = std::make_shared<Parts>();
    parts->path = "the demo vehicle";
    add_text(*parts, "vehicles/demo.toml", embedded_text("vehicles/demo.toml"), 0);
    return Vehicle(parts);
}

const std::string& Vehicle::path() const {
    return parts_->path;
}
const std::string& Vehicle::name() const {
    return parts_->name;
}
const std::string& Vehicle::kind() const {
    return parts_->kind;
}
const std::string& Vehicle::place() const {
    return parts_->place;
}
const std::vector<Vehicle::File>& Vehicle::files() const {
    return parts_->files;
}

bool Vehicle::has(std::string_view section) const {
    return std::any_of(parts_->parsed.begin(), parts_->parsed.end(),
                       [&](const VehicleFile& file) { return file.root.contains(section); });
}

std::optional<Vehicle::Place> Vehicle::given(std::string_view field) const {
    const std::string_view section = field.substr(0, field.find('.'));
    for (auto file = parts_->parsed.rbegin(); file != parts_->parsed.rend(); ++file) {
        if (const toml::node* node = node_at(file->root, field))
            return Place{file->path, static_cast<long long>(node->source().begin.line)};
        // a list of tables hides those of the files below
        const toml::node* whole = file->root.get(section);
        if (whole != nullptr && whole->is_array()) return {};
    }
    return {};
}

} // namespace winkhold::base
