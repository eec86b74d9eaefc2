#include "waveform/toml_fields.hpp"

#include <cmath>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace winkhold::host {

const toml::node* TomlFields::node(std::string_view name) {
    known_.emplace(name);
    return table_.get(name);
}

std::string TomlFields::where(std::string_view name, const toml::node& at) const {
    return at_line(file_, at.source().begin.line, fmt::format("[{}] {}", section_, name));
}

void TomlFields::refuse(std::string_view name, const toml::node& at, const std::string& why) const {
    throw InputError(fmt::format("{}: {}", where(name, at), why));
}

double TomlFields::checked(std::string_view name, const toml::node& at, double least, double most) const {
    const auto value = at.value<double>();
    if (!value || at.is_boolean() || !std::isfinite(*value))
        refuse(name, at, fmt::format("write a number from {:g} to {:g}", least, most));
    if (*value < least || *value > most)
        refuse(name, at,
               fmt::format("{:g} is out of range, it must be from {:g} to {:g}", *value, least, most));
    return *value;
}

TimeUs TomlFields::checked_duration(std::string_view name, const toml::node& at, TimeUs most_us) const {
    const auto text = at.value<std::string>();
    if (!text) refuse(name, at, "write a time in quotes, like \"40ms\"");
    const TimeUs us = parse_duration_us(*text, where(name, at));
    if (us > most_us)
        refuse(name, at,
               fmt::format("{} is out of range, the longest is {}", *text, format_duration(most_us)));
    return us;
}

void TomlFields::number(std::string_view name, double least, double most, double& value) {
    if (const toml::node* at = node(name)) value = checked(name, *at, least, most);
}

void TomlFields::whole(std::string_view name, int least, int most, int& value) {
    const toml::node* at = node(name);
    if (at == nullptr) return;
    if (!at->is_integer()) refuse(name, *at, fmt::format("write a whole number from {} to {}", least, most));
    value = static_cast<int>(checked(name, *at, least, most));
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

void TomlFields::duration(std::string_view name, TimeUs most_us, TimeUs& value_us) {
    if (const toml::node* at = node(name)) value_us = checked_duration(name, *at, most_us);
}

void TomlFields::duration_range(std::string_view name, TimeUs most_us, Range& value_us) {
    const toml::node* at = node(name);
    if (at == nullptr) return;
    const auto end = [&](const toml::node& one) {
        return static_cast<double>(checked_duration(name, one, most_us));
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

void TomlFields::done() const {
    for (const auto& [key, value] : table_)
        if (!known_.contains(key.str()))
            refuse(key.str(), value, fmt::format("unknown field; known here: {}", fmt::join(known_, ", ")));
}

} // namespace winkhold::host
