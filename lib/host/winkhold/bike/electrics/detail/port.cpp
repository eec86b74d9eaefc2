#include "winkhold/bike/electrics/detail/port.hpp"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <optional>

namespace winkhold::bike {
namespace {

char capital(char c) {
    return static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
}

std::optional<unsigned> number(std::string_view text) {
    unsigned value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return value;
}

} // namespace

std::string port_of(std::string_view pin) {
    if (pin.size() < 2) return {};
    const char first = capital(pin[0]);
    const char second = capital(pin[1]);
    if (first == 'P' && second >= 'A' && second <= 'Z' && number(pin.substr(2))) return {first, second};
    const auto printed = number(pin.substr(1));
    if (!printed || (first != 'A' && first != 'D')) return {};
    if (first == 'A') return "PC";
    return *printed < 8 ? "PD" : "PB";
}

} // namespace winkhold::bike
