#include "winkhold/measure/families/family.hpp"

#include "winkhold/base/vehicle/detail/embedded_texts.hpp"
#include "winkhold/base/vehicle/detail/vehicle_files.hpp"
#include "winkhold/measure/waveform/detail/scenario_sections.hpp"

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>
#include <set>

namespace winkhold::measure {
namespace {

namespace fs = std::filesystem;

/// What a family says of its lines in its own file: for all variants, and for one.
struct Given {
    Given(const Family& family, std::size_t variant)
        : file(files_of(family.vehicle).back()), own(file.root), one(nullptr) {
        if (const toml::array* list = own["variant"].as_array()) one = list->get(variant)->as_table();
    }

    std::set<std::string> fields() const {
        std::set<std::string> fields;
        for (const toml::table* table : {&own, one})
            if (table != nullptr) add_fields(*table, fields);
        return fields;
    }

    void lay_over(Scenario& scenario) const {
        read_sections(file.path, own, "", scenario);
        if (one != nullptr) read_sections(file.path, *one, "variant.", scenario);
    }

    void refuse_settings() const {
        for (const toml::table* table : {&own, one})
            if (table != nullptr)
                refuse_decoder(file.path, *table, "a family; it is the defaults that are tried");
    }

private:
    static void add_fields(const toml::table& table, std::set<std::string>& fields) {
        for (const auto& [section, node] : table) {
            if (!node.is_table() || section == "family" || section == "vehicle") continue;
            for (const auto& [field, value] : *node.as_table())
                if (const std::string name = fmt::format("{}.{}", section.str(), field.str());
                    name != "lines.breaks" && name != "lines.strays")
                    fields.insert(name);
        }
    }

    const VehicleFile& file;
    const toml::table& own;
    const toml::table* one;
};

Family family_of(const Vehicle& vehicle) {
    const fs::path path = vehicle.path();
    const toml::table& root = files_of(vehicle).back().root;
    if (!root.contains("family"))
        throw InputError(at_line(path.string(), 0, "no [family] section; a family has a title there"));
    Family family{.name = path.stem().string(), .title = {}, .vehicle = vehicle, .variants = {}};
    in_section(path.string(), root, "family", [&](TomlFields& fields) {
        fields.text("title", family.title);
        if (family.title.empty()) fields.refuse("title", fields.table(), "missing; say what goes wrong");
    });
    family.variants = variants_of(vehicle);
    for (std::size_t i = 0; i < family.variants.size(); ++i)
        Given(family, i).refuse_settings();
    return family;
}

std::vector<Family> carried_along() {
    std::vector<Family> families;
    for (const EmbeddedText& text : embedded_texts())
        if (text.name.starts_with("families/"))
            families.push_back(family_of(Vehicle::carried(fmt::format("data/{}", text.name))));
    return families;
}

std::vector<Family> of_folder(const std::string& folder) {
    std::error_code error;
    if (!fs::is_directory(folder, error))
        throw InputError(at_line(folder, 0, "no such folder; name one that holds families as .toml files"));
    std::vector<Family> families;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder))
        if (entry.path().extension() == ".toml")
            families.push_back(family_of(Vehicle::read(entry.path().string())));
    if (families.empty()) throw InputError(at_line(folder, 0, "holds no .toml file"));
    return families;
}

} // namespace

std::vector<Family> read_families(const std::string& folder, const std::vector<std::string>& names) {
    std::vector<Family> families = folder.empty() ? carried_along() : of_folder(folder);
    std::sort(families.begin(), families.end(),
              [](const Family& a, const Family& b) { return a.name < b.name; });
    if (names.empty()) return families;
    for (const std::string& name : names)
        if (std::none_of(families.begin(), families.end(), [&](const Family& f) { return f.name == name; }))
            throw InputError(fmt::format("{}: no family of that name in {}", name,
                                         folder.empty() ? "the families carried along" : folder));
    std::erase_if(families, [&](const Family& f) {
        return std::find(names.begin(), names.end(), f.name) == names.end();
    });
    return families;
}

std::optional<Scenario> mixture(const Family& first, std::size_t first_variant, const Family& second,
                                std::size_t second_variant) {
    const std::set<std::string> taken = Given(first, first_variant).fields();
    const Given over(second, second_variant);
    for (const std::string& field : over.fields())
        if (taken.contains(field)) return {};
    Scenario both = first.variants[first_variant].scenario;
    over.lay_over(both);
    return both;
}

} // namespace winkhold::measure
