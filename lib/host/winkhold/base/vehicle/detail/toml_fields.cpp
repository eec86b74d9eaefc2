#include "winkhold/base/vehicle/detail/toml_fields.hpp"

#include "winkhold/base/joined.hpp"
#include "winkhold/base/nearest.hpp"
#include "winkhold/base/vehicle/detail/embedded_texts.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <regex>
#include <sstream>

namespace winkhold::base {

const toml::node* TomlFields::node(std::string_view name) {
    known_.emplace(name);
    return table_.get(name);
}

std::string TomlFields::where(std::string_view name, const toml::node& at) const {
    const std::string in = section_.empty() ? "" : fmt::format("[{}] ", section_);
    return at_line(file_, at.source().begin.line, fmt::format("{}{}", in, name));
}

void TomlFields::refuse(std::string_view name, const toml::node& at, const std::string& why) const {
    throw InputError(fmt::format("{}: {}", where(name, at), why));
}

double TomlFields::checked(std::string_view name, const toml::node& at, double least, double most) const {
    const auto value = at.value<double>();
    if (const auto text = at.value<std::string>())
        refuse(name, at,
               fmt::format("\"{}\" is text; write a number from {:g} to {:g}, without quotes and unit", *text,
                           least, most));
    if (!value || at.is_boolean() || !std::isfinite(*value))
        refuse(name, at, fmt::format("write a number from {:g} to {:g}", least, most));
    if (*value < least || *value > most)
        refuse(name, at,
               fmt::format("{:g} is out of range, it must be from {:g} to {:g}", *value, least, most));
    return *value;
}

TimeUs TomlFields::checked_duration(std::string_view name, const toml::node& at, TimeUs most_us,
                                    TimeUs least_us) const {
    const auto text = at.value<std::string>();
    if (!text && at.is_number())
        refuse(name, at,
               fmt::format("the unit is missing; write \"{0:g}ms\", or \"{0:g}us\" or \"{0:g}s\" if "
                           "that is meant",
                           *at.value<double>()));
    if (!text) refuse(name, at, "write a time in quotes, like \"40ms\"");
    const bool negative = least_us < 0 && text->starts_with('-');
    const TimeUs size_us = parse_duration_us(negative ? text->substr(1) : *text, where(name, at));
    if (size_us > (negative ? -least_us : most_us))
        refuse(name, at,
               fmt::format("{} is out of range, {} is {}{}", *text, negative ? "the least" : "the longest",
                           negative ? "-" : "", format_duration(negative ? -least_us : most_us)));
    return negative ? -size_us : size_us;
}

void TomlFields::number(std::string_view name, double least, double most, double& value) {
    if (const toml::node* at = node(name)) value = checked(name, *at, least, most);
}

void TomlFields::number(std::string_view name, double least, double most, std::optional<double>& value) {
    if (const toml::node* at = node(name)) value = checked(name, *at, least, most);
}

void TomlFields::numbers(std::string_view name, double least, double most, std::vector<double>& values) {
    const toml::node* at = node(name);
    if (at == nullptr) return;
    const toml::array* list = at->as_array();
    if (list == nullptr) refuse(name, *at, "write a list of numbers, like [1, 2]");
    values.clear();
    for (const toml::node& one : *list)
        values.push_back(checked(name, one, least, most));
}

void TomlFields::whole(std::string_view name, int least, int most, int& value) {
    const toml::node* at = node(name);
    if (at == nullptr) return;
    if (!at->is_integer()) refuse(name, *at, fmt::format("write a whole number from {} to {}", least, most));
    value = static_cast<int>(checked(name, *at, least, most));
}

void TomlFields::whole(std::string_view name, int least, int most, std::optional<int>& value) {
    node(name);
    if (has(name)) whole(name, least, most, value.emplace());
}

void TomlFields::range(std::string_view name, double least, double most, Range& value) {
    const toml::node* at = node(name);
    if (at == nullptr) return;
    const toml::array* pair = at->as_array();
    if (pair == nullptr) {
        value.least = value.most = checked(name, *at, least, most);
        return;
    }
    if (pair->size() != 2) refuse(name, *at, "a range has two ends: [least, most]");
    value = {checked(name, *pair->get(0), least, most), checked(name, *pair->get(1), least, most)};
    if (value.least > value.most) refuse(name, *at, "the range ends before it starts");
}

void TomlFields::range(std::string_view name, double least, double most, std::optional<Range>& value) {
    node(name);
    if (has(name)) range(name, least, most, value.emplace());
}

void TomlFields::duration(std::string_view name, TimeUs most_us, TimeUs& value_us) {
    if (const toml::node* at = node(name)) value_us = checked_duration(name, *at, most_us);
}

void TomlFields::duration_range(std::string_view name, TimeUs most_us, Range& value_us, TimeUs least_us) {
    const toml::node* at = node(name);
    if (at == nullptr) return;
    const auto end = [&](const toml::node& one) {
        return static_cast<double>(checked_duration(name, one, most_us, least_us));
    };
    const toml::array* pair = at->as_array();
    if (pair == nullptr) {
        value_us.least = value_us.most = end(*at);
        return;
    }
    if (pair->size() != 2) refuse(name, *at, "a range has two ends: [\"0ms\", \"20ms\"]");
    value_us = {end(*pair->get(0)), end(*pair->get(1))};
    if (value_us.least > value_us.most) refuse(name, *at, "the range ends before it starts");
}

void TomlFields::duration_pairs(std::string_view name, TimeUs most_us, std::vector<TimeUs>& values_us) {
    const toml::node* at = node(name);
    if (at == nullptr) return;
    const toml::array* list = at->as_array();
    if (list == nullptr || list->empty() || list->size() % 2 != 0)
        refuse(name, *at, "write lit and dark times in turn: [\"200ms\", \"850ms\"]");
    values_us.clear();
    for (const toml::node& one : *list)
        values_us.push_back(std::max<TimeUs>(1, checked_duration(name, one, most_us)));
}

void TomlFields::flag(std::string_view name, bool& value) {
    const toml::node* at = node(name);
    if (at == nullptr) return;
    if (!at->is_boolean()) refuse(name, *at, "write true or false");
    value = at->as_boolean()->get();
}

void TomlFields::texts(std::string_view name, std::vector<std::string>& values) {
    const toml::node* at = node(name);
    if (at == nullptr) return;
    const toml::array* list = at->as_array();
    if (list == nullptr) refuse(name, *at, "write a list of texts, like [\"left\"]");
    values.clear();
    for (const toml::node& one : *list) {
        const auto text = one.value<std::string>();
        if (!text) refuse(name, one, "write text in quotes");
        values.push_back(*text);
    }
}

int TomlFields::choice(std::string_view name, std::initializer_list<std::string_view> names) {
    const toml::node* at = node(name);
    if (at == nullptr) return -1;
    const auto text = at->value<std::string>();
    const auto found = std::find(names.begin(), names.end(), text.value_or(""));
    if (found == names.end())
        refuse(name, *at,
               fmt::format("write one of: {}{}", joined(names, ", "),
                           did_you_mean(text.value_or(""), std::span(names.begin(), names.size()))));
    return static_cast<int>(found - names.begin());
}

void TomlFields::text(std::string_view name, std::string& value) {
    const toml::node* at = node(name);
    if (at == nullptr) return;
    const auto text = at->value<std::string>();
    if (!text) refuse(name, *at, "write text in quotes");
    value = *text;
}

bool TomlFields::any_as_text(std::string_view name, std::string& value) {
    const toml::node* at = node(name);
    if (at == nullptr) return false;
    if (const auto text = at->value<std::string>())
        value = *text;
    else if (const auto flag = at->value<bool>(); flag && at->is_boolean())
        value = *flag ? "on" : "off";
    else if (const auto number = at->value<double>())
        value = fmt::format("{:g}", *number);
    else
        refuse(name, *at, "write text in quotes");
    return true;
}

void TomlFields::renamed(std::string_view old, std::string_view now) {
    if (const toml::node* at = table_.get(old)) refuse(old, *at, fmt::format("is now called {}", now));
}

namespace {

/// The commented example shows nearly every field below its heading: "; it belongs to [board]".
std::string belongs_elsewhere(std::string_view field, std::string_view section) {
    std::istringstream lines{std::string(embedded_text("vehicles/demo.toml"))};
    const std::regex heading(R"(\[\[?(\w+)\]\]?.*)");
    const std::regex shown(R"(#?\s*(\w+)\s*=.*)");
    std::string in;
    std::smatch found;
    for (std::string line; std::getline(lines, line);) {
        if (std::regex_match(line, found, heading))
            in = found.str(1);
        else if (std::regex_match(line, found, shown) && found.str(1) == field && in != section &&
                 !in.empty())
            return fmt::format("; it belongs to [{}]", in);
    }
    return {};
}

} // namespace

void TomlFields::done() const {
    const std::vector<std::string_view> known(known_.begin(), known_.end());
    for (const auto& [key, value] : table_)
        if (!known_.contains(key.str()))
            refuse(key.str(), value,
                   fmt::format("unknown field{}{}; known here: {}", did_you_mean(key.str(), known),
                               belongs_elsewhere(key.str(), section_), joined(known, ", ")));
}

} // namespace winkhold::base
