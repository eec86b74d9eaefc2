#include "winkhold/base/vehicle/vehicle.hpp"

#include "winkhold/base/detail/crc.hpp"
#include "winkhold/base/joined.hpp"
#include "winkhold/base/nearest.hpp"
#include "winkhold/base/vehicle/detail/embedded_texts.hpp"
#include "winkhold/base/vehicle/detail/vehicle_files.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <filesystem>
#include <fmt/format.h>

namespace winkhold::base {
namespace {

namespace fs = std::filesystem;

constexpr std::array<std::string_view, 19> sections{
    "vehicle",      "flasher", "lines",    "volts",    "rider",     "clock", "decoder",
    "fault",        "family",  "sequence", "lamps",    "front_end", "board", "battery",
    "flasher_load", "wires",   "keep",     "measured", "variant"};

constexpr std::size_t most_files = 32;

void refuse_unknown(const std::string& path, const toml::table& root) {
    for (const auto& [key, value] : root) {
        const auto refuse = [&, &key = key, &value = value](const std::string& why) {
            throw InputError(at_line(path, value.source().begin.line, fmt::format("{}{}", key.str(), why)));
        };
        if (!value.is_array_of_tables() && !value.is_table())
            refuse(": belongs into a section like [flasher]");
        if (std::find(sections.begin(), sections.end(), key.str()) == sections.end())
            refuse(fmt::format(": unknown section{}; known: {}", did_you_mean(key.str(), sections),
                               joined(sections, ", ")));
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

/// Where texts come from: files, or what the library carries along.
using TextOf = std::string (*)(const std::string& path);

/// The files that are being read, each named by the one before it.
struct Chain {
    TextOf text_of;
    std::vector<std::string> files{};
};

void add_file(Vehicle::Parts& parts, const std::string& path, Chain chain);

void add_text(Vehicle::Parts& parts, const std::string& path, std::string_view text, const Chain& chain) {
    toml::table root = parse_toml_text(text, path);
    refuse_unknown(path, root);
    in_section(path, root, "vehicle", [&](TomlFields& fields) {
        read_format(fields);
        std::string below;
        fields.text("file", below);
        if (!below.empty()) {
            const std::string base = (fs::path(path).parent_path() / below).string();
            std::error_code error;
            if (std::any_of(chain.files.begin(), chain.files.end(),
                            [&](const std::string& one) { return fs::equivalent(one, base, error); }))
                fields.refuse("file", *fields.node("file"), "vehicle files name each other in a circle");
            if (chain.files.size() >= most_files)
                fields.refuse("file", *fields.node("file"),
                              fmt::format("the {} files before it build on each other already", most_files));
            add_file(parts, base, chain);
        }
        fields.text("name", parts.name);
        fields.text("kind", parts.kind);
        fields.text("place", parts.place);
    });
    parts.files.push_back({path, crc32(text)});
    parts.parsed.push_back({path, std::move(root), std::string(text)});
}

void add_file(Vehicle::Parts& parts, const std::string& path, Chain chain) {
    chain.files.push_back(path);
    add_text(parts, path, chain.text_of(path), chain);
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

/// The line `example = true` of a table, if it has one.
const toml::node* example_mark(const toml::node* table) {
    if (table == nullptr || !table->is_table()) return nullptr;
    const toml::node* mark = table->as_table()->get("example");
    return mark != nullptr && mark->value_or(false) ? mark : nullptr;
}

/// The table that a field stands in: "lamps.2.led_v" is in "lamps.2", "flasher.rate_per_min" in "flasher".
std::string_view table_of(const toml::table& root, std::string_view field) {
    const std::size_t dot = field.find('.');
    const toml::node* section = root.get(field.substr(0, dot));
    if (section == nullptr || !section->is_array() || dot == field.npos) return field.substr(0, dot);
    return field.substr(0, field.find('.', dot + 1));
}

} // namespace

const Vehicle::Parts& parts_of(const Vehicle& vehicle) {
    return *vehicle.parts_;
}

Vehicle Vehicle::read(const std::string& path) {
    const auto parts = std::make_shared<Parts>();
    parts->path = path;
    add_file(*parts, path, {read_toml_text});
    if (parts->name.empty()) parts->name = fs::path(path).stem().string();
    return Vehicle(parts);
}

Vehicle Vehicle::carried(const std::string& name) {
    const auto parts = std::make_shared<Parts>();
    parts->path = name;
    add_file(*parts, name, {[](const std::string& path) {
        const std::string in_data = fs::path(path).lexically_normal().lexically_relative("data").string();
        return std::string(embedded_text(in_data));
    }});
    if (parts->name.empty()) parts->name = fs::path(name).stem().string();
    return Vehicle(parts);
}

Vehicle Vehicle::demo() {
    const Vehicle vehicle = carried("data/vehicles/demo.toml");
    const auto parts = std::make_shared<Parts>(*vehicle.parts_);
    parts->path = "the demo vehicle";
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

std::uint32_t Vehicle::hash() const {
    if (parts_->files.size() == 1) return parts_->files[0].crc32;
    std::string all;
    for (const File& file : parts_->files)
        all += fmt::format("{:08x}\n", file.crc32);
    return crc32(all);
}

bool Vehicle::has(std::string_view section) const {
    return std::any_of(parts_->parsed.begin(), parts_->parsed.end(),
                       [&](const VehicleFile& file) { return file.root.contains(section); });
}

FieldNode field_node(const Vehicle& vehicle, std::string_view field) {
    const std::string_view section = field.substr(0, field.find('.'));
    const std::vector<VehicleFile>& files = files_of(vehicle);
    for (auto file = files.rbegin(); file != files.rend(); ++file) {
        if (const toml::node* node = node_at(file->root, field)) return {&*file, node};
        // a list of tables hides those of the files below
        const toml::node* whole = file->root.get(section);
        if (whole != nullptr && whole->is_array()) return {};
    }
    return {};
}

namespace {

Vehicle::Place place_of(const VehicleFile& file, const toml::node& node) {
    return {file.path, static_cast<long long>(node.source().begin.line)};
}

/// What stands behind '#' in a line of TOML, outside of texts.
std::string comment_in(std::string_view line) {
    char quote = '\0';
    for (std::size_t i = 0; i < line.size(); ++i) {
        const char c = line[i];
        if (quote == '"' && c == '\\')
            ++i;
        else if (quote != '\0')
            quote = c == quote ? '\0' : quote;
        else if (c == '"' || c == '\'')
            quote = c;
        else if (c == '#')
            return std::string(line.substr(std::min(line.find_first_not_of("# \t", i), line.size())));
    }
    return {};
}

} // namespace

std::optional<Vehicle::Place> Vehicle::given(std::string_view field) const {
    const FieldNode found = field_node(*this, field);
    if (found.node == nullptr) return {};
    return place_of(*found.file, *found.node);
}

std::string Vehicle::remark(std::string_view field) const {
    const FieldNode found = field_node(*this, field);
    if (found.node == nullptr) return {};
    std::string_view text = found.file->text;
    for (auto line = found.node->source().end.line; line > 1; --line)
        text.remove_prefix(std::min(text.find('\n'), text.size() - 1) + 1);
    std::string comment = comment_in(text.substr(0, text.find_first_of("\r\n")));
    comment.erase(comment.find_last_not_of(" \t") + 1);
    return comment;
}

Vehicle::Origin Vehicle::origin(std::string_view field) const {
    const FieldNode found = field_node(*this, field);
    if (found.node == nullptr) return Origin::nobody;
    const toml::table& root = found.file->root;
    return example_mark(node_at(root, table_of(root, field))) != nullptr ? Origin::example : Origin::owner;
}

std::vector<Vehicle::Example> Vehicle::examples() const {
    std::vector<Example> examples;
    for (const VehicleFile& file : parts_->parsed)
        for (const auto& [key, section] : file.root) {
            const auto add = [&, &key = key](const toml::node* table) {
                if (const toml::node* mark = example_mark(table))
                    examples.push_back({std::string(key.str()), place_of(file, *mark)});
            };
            add(&section);
            if (const toml::array* list = section.as_array())
                for (const toml::node& one : *list)
                    add(&one);
        }
    return examples;
}

} // namespace winkhold::base
