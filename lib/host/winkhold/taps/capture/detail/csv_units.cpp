#include "winkhold/taps/capture/detail/csv_units.hpp"

#include <algorithm>
#include <cctype>

namespace winkhold::taps::capture {
namespace {

struct NamedUnit {
    std::string_view name;
    CsvUnit unit;
};

using Of = CsvUnit::Of;

// Symbols are told by their case, words are not. "\xB5" is the micro sign of Latin-1.
constexpr NamedUnit symbols[] = {
    {"s", {Of::time, 6}},    {"S", {Of::time, 6}},    {"ms", {Of::time, 3}},    {"us", {Of::time, 0}},
    {"µs", {Of::time, 0}},   {"μs", {Of::time, 0}},   {"\xB5s", {Of::time, 0}}, {"ns", {Of::time, -3}},
    {"ps", {Of::time, -6}},  {"V", {Of::volts, 0}},   {"mV", {Of::volts, -3}},  {"uV", {Of::volts, -6}},
    {"µV", {Of::volts, -6}}, {"μV", {Of::volts, -6}}, {"kV", {Of::volts, 3}},   {"v", {Of::volts, 0}},
    {"A", {Of::other, 0}},   {"mA", {Of::other, 0}},  {"%", {Of::other, 0}},    {"W", {Of::other, 0}},
    {"min", {Of::other, 0}}, {"h", {Of::other, 0}},   {"Hz", {Of::other, 0}},   {"dB", {Of::other, 0}},
};

constexpr NamedUnit words[] = {
    {"sec", {Of::time, 6}},          {"second", {Of::time, 6}},      {"seconds", {Of::time, 6}},
    {"sekunden", {Of::time, 6}},     {"msec", {Of::time, 3}},        {"millisecond", {Of::time, 3}},
    {"milliseconds", {Of::time, 3}}, {"usec", {Of::time, 0}},        {"microsecond", {Of::time, 0}},
    {"microseconds", {Of::time, 0}}, {"nanosecond", {Of::time, -3}}, {"nanoseconds", {Of::time, -3}},
    {"volt", {Of::volts, 0}},        {"volts", {Of::volts, 0}},      {"millivolt", {Of::volts, -3}},
    {"millivolts", {Of::volts, -3}}, {"ampere", {Of::other, 0}},     {"percent", {Of::other, 0}},
};

template <class Table>
CsvUnit find(const Table& table, std::string_view text) {
    const auto* const found = std::find_if(std::begin(table), std::end(table),
                                           [text](const NamedUnit& unit) { return unit.name == text; });
    return found == std::end(table) ? CsvUnit{} : found->unit;
}

std::string_view trimmed(std::string_view text) {
    while (text.starts_with(' '))
        text.remove_prefix(1);
    while (text.ends_with(' '))
        text.remove_suffix(1);
    return text;
}

// Behind the last `mark` of `name`, where a unit stands.
CsvName split_at(std::string_view name, std::size_t mark, std::size_t tail) {
    const std::string_view unit = trimmed(name.substr(mark + 1, name.size() - mark - 1 - tail));
    return {trimmed(name.substr(0, mark)), unit, read_unit(unit)};
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

} // namespace

std::string lower(std::string_view text) {
    std::string result(text);
    std::transform(result.begin(), result.end(), result.begin(),
                   [](unsigned char c) { return std::tolower(c); });
    return result;
}

CsvUnit read_unit(std::string_view text) {
    text = trimmed(text);
    const bool in_brackets =
        (text.starts_with('(') && text.ends_with(')')) || (text.starts_with('[') && text.ends_with(']'));
    if (in_brackets) text = trimmed(text.substr(1, text.size() - 2));
    const CsvUnit symbol = find(symbols, text);
    return symbol.of == Of::nothing ? find(words, lower(text)) : symbol;
}

CsvName take_apart(std::string_view name) {
    name = trimmed(name);
    const bool in_brackets = name.ends_with(')') || name.ends_with(']');
    const std::size_t open = in_brackets ? name.rfind(name.ends_with(')') ? '(' : '[') : name.npos;
    if (open != name.npos && open > 0) return split_at(name, open, 1);
    for (const char mark : {'/', '_', ' '}) {
        const std::size_t at = name.rfind(mark);
        if (at == name.npos || at == 0) continue;
        const CsvName parts = split_at(name, at, 0);
        if (parts.unit.of != Of::nothing) return parts;
    }
    if (name.size() > 1 && name.ends_with('V') && is_digit(name[name.size() - 2]))
        return {name.substr(0, name.size() - 1), name.substr(name.size() - 1), {Of::volts, 0}};
    return {name, {}, {}};
}

} // namespace winkhold::taps::capture
