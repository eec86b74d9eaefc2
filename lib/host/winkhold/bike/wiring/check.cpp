#include "winkhold/bike/wiring/check.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/bike/electrics/detail/supply_sections.hpp"
#include "winkhold/bike/wiring/detail/judges.hpp"
#include "winkhold/bike/wiring/detail/known_loads.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {

std::string plain_name(std::string_view name) {
    constexpr std::string_view blanks = " \t\r\n";
    const std::size_t from = name.find_first_not_of(blanks);
    if (from == name.npos) return {};
    std::string plain(name.substr(from, name.find_last_not_of(blanks) + 1 - from));
    std::transform(plain.begin(), plain.end(), plain.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return plain;
}

bool same_name(std::string_view a, std::string_view b) {
    return plain_name(a) == plain_name(b);
}

const WireEnd& other_end(const Wire& wire, WireEnd::Kind kind) {
    return wire.from.kind == kind ? wire.to : wire.from;
}

std::string place_of(const LampGroup& group) {
    return group.where.substr(0, group.where.find(": [lamps]"));
}

std::string wire_name(const Wire& wire) {
    const bool is_labelled = !plain_name(wire.label).empty();
    return is_labelled ? fmt::format("wire {}", wire.label)
                       : fmt::format("the wire from {} to {}", text(wire.from), text(wire.to));
}

WiringSheet check_wiring(Wiring wiring, const Lamps& lamps, Loads loads) {
    WiringSheet sheet{std::move(wiring), std::move(loads), {}, {}};
    judge_labels(sheet.wiring, sheet.findings);
    judge_pins(sheet.wiring, lamps, sheet.findings);
    judge_cavities(sheet.wiring, sheet.findings);
    judge_fuses(sheet);
    judge_pin_loads(sheet);
    judge_reach(lamps, sheet);
    judge_kept(sheet);
    std::stable_sort(sheet.findings.begin(), sheet.findings.end(),
                     [](const WireFinding& a, const WireFinding& b) { return a.kind < b.kind; });
    return sheet;
}

WiringSheet wiring_sheet_of(const Vehicle& vehicle) {
    Wiring wiring = wiring_of(vehicle);
    if (wiring.wires.empty())
        throw InputError(at_line(
            vehicle.path(), 0, "no [[wires]]; list your connections there, winkhold new writes an example"));
    return check_wiring(std::move(wiring), lamps_of(vehicle),
                        known_loads(judge_electrics(vehicle), supply_sections_of(vehicle)));
}

} // namespace winkhold::bike
