#include "winkhold/base/vehicle/new_vehicle.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/error.hpp"
#include "winkhold/base/vehicle/detail/embedded_texts.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::base {
namespace {

constexpr std::string_view name_key = "\nname = \"";

/// As a TOML basic string takes it.
std::string quoted_inside(const std::string& text) {
    std::string inside;
    for (const char c : text) {
        if (c == '"' || c == '\\') inside += '\\';
        inside += c;
    }
    return inside;
}

} // namespace

std::string_view embedded_text(std::string_view name) {
    const auto& texts = embedded_texts();
    return std::find_if(texts.begin(), texts.end(), [&](const EmbeddedText& one) { return one.name == name; })
        ->text;
}

std::string new_vehicle_text(const std::string& name) {
    std::string text(embedded_text("vehicles/demo.toml"));
    if (name.empty()) return text;
    if (legible(name) != name)
        throw InputError(fmt::format("--name \"{}\": write plain text on one line", legible(name)));
    const std::size_t from = text.find(name_key) + name_key.size();
    return text.replace(from, text.find('"', from) - from, quoted_inside(name));
}

} // namespace winkhold::base
