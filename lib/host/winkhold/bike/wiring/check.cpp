#include "winkhold/bike/wiring/check.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/error.hpp"
#include "winkhold/bike/electrics/detail/supply_sections.hpp"
#include "winkhold/bike/wiring/detail/judges.hpp"
#include "winkhold/bike/wiring/detail/known_loads.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <set>

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

namespace {

/// Whatever rests on values of the example is told as not judged: nothing of it passes.
void tell_examples(const Vehicle& vehicle, WiringSheet& sheet) {
    sheet.still_example = still_example(vehicle);
    struct Rest {
        std::string_view section;
        const char* judged;
    };
    constexpr Rest rests[] = {{"wires", "wires and nets"},
                              {"lamps", "what lights lamps, and their currents"},
                              {"board", "currents and terminals of the board"},
                              {"front_end", "currents of the taps"},
                              {"keep", "what must stay connected"}};
    std::set<std::string> told;
    for (const Vehicle::Example& example : vehicle.examples()) {
        for (const Rest& rest : rests)
            if (rest.section == example.section && told.insert(example.section).second)
                sheet.not_judged.push_back(fmt::format("{}: [{}] ({}:{}) is still the example's", rest.judged,
                                                       example.section, legible(example.place.file),
                                                       example.place.line));
    }
}

} // namespace

std::string place_of(const LampGroup& group) {
    return group.where.substr(0, group.where.find(": [lamps]"));
}

std::string wire_name(const Wire& wire) {
    const bool is_labelled = !plain_name(wire.label).empty();
    return is_labelled ? fmt::format("wire {}", wire.label)
                       : fmt::format("the wire from {} to {}", text(wire.from), text(wire.to));
}

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words;
    std::size_t from = 0;
    while ((from = text.find_first_not_of(' ', from)) != text.npos) {
        const std::size_t end = std::min(text.find(' ', from), text.size());
        words.emplace_back(text.substr(from, end - from));
        from = end;
    }
    return words;
}

WiringSheet check_wiring(Wiring wiring, const Lamps& lamps, Loads loads, const BoardFacts& board) {
    WiringSheet sheet{std::move(wiring), std::move(loads), {}, {}, {}};
    const Nets nets(sheet.wiring, lamps);
    const LampEnds ends = lamp_ends_of(sheet.wiring, lamps, nets);
    const WiringCase on{lamps, board, nets, ends};
    compute_loads(on, sheet);
    judge_labels(sheet.wiring, sheet.findings);
    judge_pins(sheet.wiring, lamps, sheet.findings);
    judge_cavities(sheet.wiring, sheet.findings);
    judge_chip_duties(on, sheet);
    judge_rails(on, sheet);
    judge_supply_and_taps(on, sheet);
    judge_lamp_reach(on, sheet);
    judge_lamp_outputs(on, sheet);
    judge_fuses(on, sheet);
    judge_pin_loads(sheet);
    judge_figures(on, sheet);
    judge_ground(on, sheet);
    judge_names(on, sheet);
    judge_kept(sheet);
    tell_unfollowed(on, sheet);
    for (std::vector<WireFinding>* list : {&sheet.findings, &sheet.warnings})
        std::stable_sort(list->begin(), list->end(),
                         [](const WireFinding& a, const WireFinding& b) { return a.kind < b.kind; });
    return sheet;
}

WiringSheet wiring_sheet_of(const Vehicle& vehicle) {
    Wiring wiring = wiring_of(vehicle);
    if (wiring.wires.empty())
        throw InputError(at_line(
            vehicle.path(), 0, "no [[wires]]; list your connections there, winkhold new writes an example"));
    const SupplySections supply = supply_sections_of(vehicle);
    WiringSheet sheet = check_wiring(std::move(wiring), lamps_of(vehicle),
                                     known_loads(judge_electrics(vehicle), supply, front_end_of(vehicle)),
                                     board_facts(vehicle, supply));
    tell_examples(vehicle, sheet);
    return sheet;
}

} // namespace winkhold::bike
