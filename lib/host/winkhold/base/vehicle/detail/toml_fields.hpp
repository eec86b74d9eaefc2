/// Reads the fields of one TOML table and refuses what it doesn't know. With
/// toml_text.hpp the only header that sees toml++.
#pragma once

#include "winkhold/base/error.hpp"
#include "winkhold/base/range.hpp"
#include "winkhold/base/time.hpp"
#include "winkhold/base/vehicle/detail/toml_text.hpp"

#include <optional>
#include <set>
#include <string>
#include <string_view>

namespace winkhold::base {

/// One table. Each getter leaves the value alone if the field is absent. done() refuses fields nobody asked
/// for.
class TomlFields {
public:
    TomlFields(std::string file, std::string section, const toml::table& table)
        : file_(std::move(file)), section_(std::move(section)), table_(table) {
        bool example = false; // whose values these are concerns Vehicle::origin(), each table may say it
        flag("example", example);
        known_.insert("source"); // and so may each where its values come from
    }

    void number(std::string_view name, double least, double most, double& value);
    /// Stays without a value if the field is absent and it had none.
    void number(std::string_view name, double least, double most, std::optional<double>& value);
    void whole(std::string_view name, int least, int most, int& value);
    void whole(std::string_view name, int least, int most, std::optional<int>& value);
    /// A list of numbers.
    void numbers(std::string_view name, double least, double most, std::vector<double>& values);
    /// A number, or [least, most] drawn per bike.
    void range(std::string_view name, double least, double most, Range& value);
    void range(std::string_view name, double least, double most, std::optional<Range>& value);
    void duration(std::string_view name, TimeUs most_us, TimeUs& value_us);
    /// A duration, or ["10ms", "20ms"] for a range. `least_us` may be below zero: "-50ms".
    void duration_range(std::string_view name, TimeUs most_us, Range& value_us, TimeUs least_us = 0);
    /// A list of durations, an even number of them.
    void duration_pairs(std::string_view name, TimeUs most_us, std::vector<TimeUs>& values_us);
    void flag(std::string_view name, bool& value);
    /// A list of texts.
    void texts(std::string_view name, std::vector<std::string>& values);
    /// The text's place among `names`, or -1 if the field is absent.
    int choice(std::string_view name, std::initializer_list<std::string_view> names);
    /// The same, for an enumeration in that order.
    template <class Choice>
    void choice(std::string_view name, std::initializer_list<std::string_view> names,
                std::optional<Choice>& value) {
        if (const int chosen = choice(name, names); chosen >= 0) value = static_cast<Choice>(chosen);
    }
    void text(std::string_view name, std::string& value);
    /// Text, a number or true/false, as text; durations and words share it.
    bool any_as_text(std::string_view name, std::string& value);
    const toml::node* node(std::string_view name);
    bool has(std::string_view name) const { return table_.contains(name); }

    /// Refuses a field by the name that it once had, naming today's.
    void renamed(std::string_view old, std::string_view now);

    /// Throws for the first field that no getter asked for, with the nearest one that a getter did ask for.
    void done() const;

    /// "file:line: [section] field: why".
    [[noreturn]] void refuse(std::string_view name, const toml::node& at, const std::string& why) const;
    std::string where(std::string_view name, const toml::node& at) const;
    const toml::table& table() const { return table_; }

private:
    double checked(std::string_view name, const toml::node& at, double least, double most) const;
    TimeUs checked_duration(std::string_view name, const toml::node& at, TimeUs most_us,
                            TimeUs least_us = 0) const;

    std::string file_;
    std::string section_;
    const toml::table& table_;
    std::set<std::string, std::less<>> known_;
};

/// A heading alone, or with `example` only, says nothing: its values are not known.
inline bool says_anything(const toml::table& section) {
    return section.size() > (section.contains("example") ? 1 : 0);
}

/// Calls read(fields) for the section if it is there. `label` is how messages name it.
template <class Read>
void in_section(const std::string& file, const toml::table& root, std::string_view name, Read&& read,
                const std::string& label = {}) {
    const toml::node* node = root.get(name);
    if (node == nullptr) return;
    const toml::table* table = node->as_table();
    if (table == nullptr)
        throw InputError(
            at_line(file, node->source().begin.line, "write [" + std::string(name) + "] as a section"));
    TomlFields fields(file, label.empty() ? std::string(name) : label, *table);
    read(fields);
    fields.done();
}

/// Calls read(fields) for each table of a list like [[wires]]; none if it isn't there.
template <class Read>
void in_each_table(const std::string& file, const toml::table& root, std::string_view name, Read&& read) {
    const toml::node* node = root.get(name);
    if (node == nullptr) return;
    const toml::array* list = node->as_array();
    if (list == nullptr || !list->is_array_of_tables())
        throw InputError(
            at_line(file, node->source().begin.line, "write each as [[" + std::string(name) + "]]"));
    for (const toml::node& one : *list) {
        TomlFields fields(file, std::string(name), *one.as_table());
        read(fields);
        fields.done();
    }
}

} // namespace winkhold::base
