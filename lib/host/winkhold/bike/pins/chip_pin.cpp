// Look-ups in the table.
#include "winkhold/bike/pins/chip_pins.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

char capital(char c) {
    return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
}

bool is_named(std::string_view name, std::string_view written) {
    return !name.empty() && std::equal(name.begin(), name.end(), written.begin(), written.end(),
                                       [](char a, char b) { return a == capital(b); });
}

} // namespace

const ChipPin* chip_pin(std::string_view name) {
    constexpr std::string_view blanks = " \t\r\n";
    const std::size_t from = name.find_first_not_of(blanks);
    if (from == name.npos) return nullptr;
    name = name.substr(from, name.find_last_not_of(blanks) + 1 - from);
    for (const ChipPin& pin : chip_pins())
        if (is_named(pin.port, name) || is_named(pin.printed, name)) return &pin;
    return nullptr;
}

std::string port_of(std::string_view name) {
    const ChipPin* const pin = chip_pin(name);
    return std::string(pin == nullptr ? std::string_view{} : pin->port_letter());
}

const ChipPin& reserved_pin(std::string_view duty) {
    const std::span<const ChipPin> pins = chip_pins();
    return *std::find_if(pins.begin(), pins.end(), [&](const ChipPin& pin) { return pin.reserved == duty; });
}

std::string text(const ChipPin& pin) {
    return pin.printed.empty() ? std::string(pin.port) : fmt::format("{} ({})", pin.printed, pin.port);
}

} // namespace winkhold::bike
