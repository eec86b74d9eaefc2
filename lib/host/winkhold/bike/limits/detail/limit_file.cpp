#include "winkhold/bike/limits/detail/limit_file.hpp"

#include "winkhold/base/joined.hpp"
#include "winkhold/base/vehicle/detail/toml_fields.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

/// All values of an enumeration whose names end with `last`'s.
template <class Value>
std::vector<std::string_view> names_up_to(Value last) {
    std::vector<std::string_view> names;
    for (int i = 0; i <= static_cast<int>(last); ++i)
        names.push_back(name(static_cast<Value>(i)));
    return names;
}

template <class Value>
Value chosen(TomlFields& fields, const char* field, Value last) {
    const std::vector<std::string_view> names = names_up_to(last);
    std::string text;
    fields.text(field, text);
    const auto found = std::find(names.begin(), names.end(), text);
    if (found == names.end()) {
        const toml::node* at = fields.node(field);
        fields.refuse(field, at != nullptr ? *at : fields.table(),
                      fmt::format("write one of: {}", joined(names, ", ")));
    }
    return static_cast<Value>(found - names.begin());
}

std::vector<Unit> units_of(LimitMeasure measure) {
    switch (measure) {
    case LimitMeasure::flash_rate:
        return {Unit::per_minute, Unit::hertz};
    case LimitMeasure::on_share:
        return {Unit::percent};
    case LimitMeasure::sequence_latched:
    case LimitMeasure::sequence_outward:
    case LimitMeasure::sequence_uniform:
        return {Unit::flashes};
    case LimitMeasure::sequence_gap:
    case LimitMeasure::across:
    case LimitMeasure::to_headlamp:
    case LimitMeasure::to_stop_lamp:
    case LimitMeasure::low_edge:
    case LimitMeasure::high_edge:
    case LimitMeasure::ahead_of_rear:
        return {Unit::millimetre};
    case LimitMeasure::sequence_aspect:
    case LimitMeasure::stop_to_tail:
        return {Unit::times};
    case LimitMeasure::turn_colour:
        return {Unit::groups};
    case LimitMeasure::by_hand:
        return {};
    default:
        return {Unit::second, Unit::millisecond};
    }
}

void read_numbers(TomlFields& fields, Limit& limit) {
    constexpr double largest = 1e9;
    for (const auto& [field, number] : {std::pair{"least", &limit.least}, std::pair{"most", &limit.most}})
        if (fields.has(field)) fields.number(field, 0, largest, number->emplace());
    const std::vector<Unit> units = units_of(limit.measure);
    if (units.empty()) {
        if (limit.least || limit.most || fields.has("unit"))
            fields.refuse("measure", fields.table(),
                          "by-hand has no least, most or unit; put them into note");
        return;
    }
    if (!limit.least && !limit.most)
        fields.refuse("most", fields.table(), "missing; give least, most or both");
    if (limit.least && limit.most && *limit.least > *limit.most)
        fields.refuse("least", fields.table(), "is more than most");
    limit.unit = chosen(fields, "unit", Unit::groups);
    if (std::find(units.begin(), units.end(), limit.unit) == units.end()) {
        std::vector<std::string_view> fitting;
        for (const Unit unit : units)
            fitting.push_back(name(unit));
        fields.refuse("unit", *fields.node("unit"),
                      fmt::format("{} takes: {}", name(limit.measure), joined(fitting, ", ")));
    }
}

void read_method(TomlFields& fields, Limit& limit) {
    constexpr int most_cycles = 1'000;
    fields.whole("after_cycles", 0, most_cycles, limit.after_cycles);
    fields.whole("mean_of_cycles", 1, most_cycles, limit.mean_of_cycles);
    if (fields.choice("averaging", {"mean-of-rates", "worse-of-both"}) == 0)
        limit.averaging = Averaging::mean_of_rates;
    if (limit.measure == LimitMeasure::flash_rate || limit.measure == LimitMeasure::on_share) return;
    for (const char* field : {"after_cycles", "mean_of_cycles", "averaging"})
        if (fields.has(field)) fields.refuse(field, fields.table(), "only with flash-rate and on-share");
}

/// One, or a list of them.
void read_conditions(TomlFields& fields, const char* name, std::vector<std::string>& conditions) {
    const toml::node* const node = fields.node(name);
    if (node == nullptr || node->is_array()) return fields.texts(name, conditions);
    fields.text(name, conditions.emplace_back());
}

Limit read_limit(TomlFields& fields, const Jurisdiction& place) {
    const auto needed = [&](const char* field, const char* what, std::string& text) {
        fields.text(field, text);
        if (text.empty()) fields.refuse(field, fields.table(), fmt::format("missing; {}", what));
    };
    Limit limit;
    needed("id", "give it a name of its own, like \"flash-rate\"", limit.id);
    for (const Limit& before : place.limits)
        if (before.id == limit.id)
            fields.refuse("id", fields.table(), fmt::format("\"{}\" is given twice", limit.id));
    needed("what", "say for people what is limited", limit.what);
    limit.measure = chosen(fields, "measure", LimitMeasure::by_hand);
    read_numbers(fields, limit);
    read_method(fields, limit);
    fields.texts("kinds", limit.kinds);
    fields.choice("at", {"front", "rear"}, limit.at);
    if (limit.at && !is_of_turn_lamps(limit.measure))
        fields.refuse("at", *fields.node("at"), "only with what turn lamps at one end are held against");
    read_conditions(fields, "only_if", limit.only_if);
    read_conditions(fields, "unless", limit.unless);
    needed("publication", "say where the limit stands", limit.publication);
    needed("clause", "say where in the publication, or \"not noted\"", limit.clause);
    limit.mark = chosen(fields, "mark", Mark::common_practice);
    fields.text("note", limit.note);
    return limit;
}

} // namespace

Jurisdiction read_place(const std::string& path, const toml::table& root) {
    Jurisdiction place;
    place.file = path;
    in_section(path, root, "place", [&](TomlFields& fields) {
        fields.text("name", place.name);
        fields.text("title", place.title);
        fields.texts("kinds", place.kinds);
        fields.texts("also", place.also);
    });
    if (place.name.empty()) throw InputError(at_line(path, 0, "[place] name: missing; which place is this?"));
    if (place.title.empty()) place.title = place.name;
    TomlFields top(path, "", root);
    top.node("place");
    if (const toml::node* node = top.node("limit")) {
        const toml::array* list = node->as_array();
        if (list == nullptr || !list->is_array_of_tables())
            throw InputError(at_line(path, node->source().begin.line, "write each limit as [[limit]]"));
        for (const toml::node& one : *list) {
            TomlFields fields(path, "limit", *one.as_table());
            Limit limit = read_limit(fields, place);
            fields.done();
            place.limits.push_back(std::move(limit));
        }
    }
    top.done();
    return place;
}

} // namespace winkhold::bike
