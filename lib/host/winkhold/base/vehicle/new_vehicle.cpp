#include "winkhold/base/vehicle/new_vehicle.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/error.hpp"
#include "winkhold/base/vehicle/detail/embedded_texts.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <set>
#include <vector>

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

namespace {

std::vector<std::string> lines_of(std::string_view text) {
    std::vector<std::string> lines;
    for (; !text.empty(); text.remove_prefix(std::min(text.find('\n') + 1, text.size())))
        lines.emplace_back(text.substr(0, text.find('\n')));
    return lines;
}

std::string marked_as_example(std::string_view text) {
    std::string marked;
    for (const std::string& line : lines_of(text)) {
        marked += line + "\n";
        if (line.starts_with('['))
            marked += "example = true               # delete this line once all below it is yours\n";
    }
    return marked;
}

/// "led_v = 2.1    # why" becomes "# led_v =    # why"; the first table of each list shows which keys there
/// are, the others go. What is not one line goes on as a comment without its values.
std::string emptied(std::string_view text) {
    std::string out;
    std::set<std::string> seen;
    bool skips = false;
    int open = 0; // brackets of a value over several lines
    for (const std::string& line : lines_of(text)) {
        const auto brackets = [&](std::string_view part) {
            return static_cast<int>(std::count(part.begin(), part.end(), '[') -
                                    std::count(part.begin(), part.end(), ']'));
        };
        if (open > 0) {
            open += brackets(line);
            continue;
        }
        if (line.starts_with('[')) {
            skips = !seen.insert(line.substr(0, line.find(']'))).second;
            if (!skips) out += (line.starts_with("[[") ? "# " : "") + line + "\n";
        } else if (line.empty() || line.starts_with('#')) {
            if (line.starts_with("# ---") || !skips) out += line + "\n";
            if (line.starts_with('#')) skips = skips && !line.starts_with("# ---");
        } else if (!skips) {
            const std::size_t equals = line.find(" = ");
            const std::size_t comment = line.find(" # ", equals);
            open = brackets(line.substr(equals, comment == line.npos ? line.npos : comment - equals));
            const std::string key = "# " + line.substr(0, equals) + " =";
            out += comment == line.npos ? key : fmt::format("{:<28}{}", key, line.substr(comment));
            out += "\n";
        }
    }
    return out;
}

} // namespace

std::string new_vehicle_text(const std::string& name, NewVehicle what) {
    if (legible(name) != name)
        throw InputError(fmt::format("--name \"{}\": write plain text on one line", legible(name)));
    std::string text(embedded_text("vehicles/demo.toml"));
    text = what == NewVehicle::empty ? emptied(text) : marked_as_example(text);
    constexpr std::string_view invented = " This bike is invented.";
    text.erase(text.find(invented), invented.size());
    if (name.empty()) return text;
    const std::string line = fmt::format("name = \"{}\"", quoted_inside(name));
    const std::size_t from = text.find(what == NewVehicle::empty ? "\n# name =" : name_key) + 1;
    return text.replace(from, text.find('\n', from) - from, line);
}

} // namespace winkhold::base
