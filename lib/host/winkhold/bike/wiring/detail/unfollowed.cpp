// What the nets can't be followed through, told by name.
#include "winkhold/base/joined.hpp"
#include "winkhold/bike/wiring/detail/judges.hpp"

#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using Role = Terminal::Role;

/// Things of one name, with the wires that end there.
using Places = std::map<std::string, std::vector<std::size_t>>;

std::string wires_text(const Wiring& wiring, const std::vector<std::size_t>& wires) {
    std::vector<std::string> names;
    for (const std::size_t wire : wires)
        names.push_back(wire_name(wiring.wires[wire]));
    return joined(names, ", ");
}

} // namespace

void tell_unfollowed(const WiringCase& on, WiringSheet& sheet) {
    Places closed;
    Places unnamed;
    Places splices;
    for (std::size_t wire = 0; wire < sheet.wiring.wires.size(); ++wire)
        for (const std::size_t end : on.nets.ends(wire)) {
            const Terminal& terminal = on.nets.at(end);
            if (terminal.role == Role::closed_part) closed[terminal.text].push_back(wire);
            if (terminal.role == Role::board_other) unnamed[terminal.text].push_back(wire);
            if (terminal.role == Role::splice) splices[terminal.name].push_back(wire);
        }
    const auto tell = [&](const std::string& what, const std::vector<std::size_t>& wires, const char* why) {
        sheet.not_judged.push_back(
            fmt::format("{}: {}; not followed beyond it: {}", what, why, wires_text(sheet.wiring, wires)));
    };
    for (const auto& [part, wires] : closed)
        tell(part, wires, "what it joins inside is not known");
    for (const auto& [terminal, wires] : unnamed)
        tell(terminal, wires,
             "the name doesn't say what it is (plus, minus, lamps plus, SR1.3, D9 transistor)");
    for (const auto& [part, wires] : splices)
        if (wires.size() == 1) tell("part " + part, wires, "nothing else goes on from there");
}

} // namespace winkhold::bike
