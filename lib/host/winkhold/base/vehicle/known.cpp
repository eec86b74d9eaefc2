#include "winkhold/base/vehicle/known.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/joined.hpp"
#include "winkhold/base/vehicle/plausible.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <set>

namespace winkhold::base {
namespace {

void add_once(std::vector<std::string>& texts, std::string text) {
    if (std::find(texts.begin(), texts.end(), text) == texts.end()) texts.push_back(std::move(text));
}

bool is_number(std::string_view text) {
    return !text.empty() &&
           std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

struct FieldName {
    std::string_view section;
    std::string_view number; ///< of a table in a list, counted from 0; empty: a section
    std::string_view key;    ///< empty: the whole table
};

FieldName split(std::string_view field) {
    const auto next = [&field] {
        const std::size_t dot = std::min(field.find('.'), field.size());
        const std::string_view part = field.substr(0, dot);
        field.remove_prefix(std::min(dot + 1, field.size()));
        return part;
    };
    FieldName name{.section = next(), .number = {}, .key = {}};
    if (is_number(field.substr(0, field.find('.')))) name.number = next();
    name.key = field;
    return name;
}

std::string table_text(const FieldName& name) {
    return name.number.empty()
               ? fmt::format("[{}]", name.section)
               : fmt::format("[[{}]] {}", name.section, std::stoi(std::string(name.number)) + 1);
}

std::string place_text(const Vehicle::Place& place) {
    return fmt::format("{}:{}", legible(place.file), place.line);
}

} // namespace

std::string field_text(std::string_view field) {
    const FieldName name = split(field);
    return name.key.empty() ? table_text(name) : fmt::format("{} {}", table_text(name), name.key);
}

std::string why_not_known(const Vehicle& vehicle, std::span<const std::string> fields) {
    std::vector<std::string> missing;
    std::vector<std::string> examples; // each table once, at the first of its fields
    std::vector<std::string> odd;
    std::set<std::string> tables;
    for (const std::string& field : fields) {
        const Vehicle::Origin origin = vehicle.origin(field);
        if (implausible(vehicle, field)) add_once(odd, field_text(field));
        if (origin == Vehicle::Origin::nobody) add_once(missing, field_text(field));
        if (origin == Vehicle::Origin::example && tables.insert(table_text(split(field))).second)
            examples.push_back(
                fmt::format("{} ({})", table_text(split(field)), place_text(*vehicle.given(field))));
    }
    std::vector<std::string> whys;
    if (!missing.empty()) whys.push_back("enter " + joined(missing, ", "));
    if (!examples.empty())
        whys.push_back(fmt::format("{} {} still the example's", joined(examples, ", "),
                                   examples.size() == 1 ? "is" : "are"));
    if (!odd.empty()) whys.push_back(fmt::format("{} can't be right", joined(odd, ", ")));
    return joined(whys, "; ");
}

std::string example_notice(const Vehicle& vehicle) {
    struct Count {
        std::string section;
        int tables;
    };
    std::vector<Count> counts;
    const std::vector<Vehicle::Example> examples = vehicle.examples();
    for (const Vehicle::Example& example : examples) {
        const auto found = std::find_if(counts.begin(), counts.end(),
                                        [&](const Count& count) { return count.section == example.section; });
        if (found != counts.end())
            ++found->tables;
        else
            counts.push_back({example.section, 1});
    }
    if (counts.empty()) return {};
    std::vector<std::string> names;
    for (const Count& count : counts)
        names.push_back(count.tables == 1 ? fmt::format("[{}]", count.section)
                                          : fmt::format("{} [[{}]]", count.tables, count.section));
    return fmt::format("Still the example's: {}. Nothing in them passes. Enter your bike's values, then "
                       "delete the line \"example = true\" (first at {}).",
                       joined(names, ", "), place_text(examples.front().place));
}

StillExample still_example(const Vehicle& vehicle) {
    StillExample still{example_notice(vehicle), {}};
    for (const Vehicle::Example& example : vehicle.examples())
        add_once(still.sections, example.section);
    return still;
}

} // namespace winkhold::base
