// Labels against what their wires go to. Only what a label says plainly is held against it.
#include "winkhold/bike/lamps/contradictions.hpp"
#include "winkhold/bike/wiring/detail/judges.hpp"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>
#include <iterator>
#include <map>

namespace winkhold::bike {
namespace {

using Kind = WireFinding::Kind;
using Role = Terminal::Role;
using core::Indication;

/// "fl3" from "FL3+": letters before anything else.
std::string letters_of(std::string_view label) {
    const std::string plain = plain_name(label);
    const auto is_letter = [](char c) { return c >= 'a' && c <= 'z'; };
    return {plain.begin(), std::find_if_not(plain.begin(), plain.end(), is_letter)};
}

/// The number in it, if it has one: 3 of "FL3".
std::optional<int> number_of(std::string_view label) {
    const std::size_t from = label.find_first_of("0123456789");
    if (from == label.npos) return {};
    int number = 0;
    const auto [end, error] = std::from_chars(label.data() + from, label.data() + label.size(), number);
    if (error != std::errc{}) return {};
    return number;
}

/// "L", "TL" or a word: the factory line a label speaks of. Empty: none, or more than one.
std::string_view line_of(const std::string& label) {
    std::string_view found;
    int count = 0;
    for (const std::string& word : name_words(label))
        for (const std::string_view line : tap_lines)
            if (word == line) {
                found = line;
                ++count;
            }
    if (count > 0) return count == 1 ? found : "";
    const std::string letters = letters_of(label);
    const std::string_view initials = "lrbts"; // in the order of tap_lines
    const bool is_code = letters.size() == 1 || (letters.size() == 2 && letters[0] == 't');
    const std::size_t at = is_code ? initials.find(letters.back()) : initials.npos;
    // a lone B, T or S may be anything: battery, tail, supply
    if (at == initials.npos || (letters.size() == 1 && at > 1)) return "";
    return tap_lines[at];
}

/// What a label like "FL3", "RR+" or "front left 3" says of a group's place.
Said said_by_label(const std::string& label) {
    Said said = said_by_name(label);
    if (said.side || said.at) return said;
    const std::string letters = letters_of(label);
    if (letters.size() != 2) return said;
    const auto side_of = [](char c) {
        return c == 'l'   ? std::optional(Indication::left)
               : c == 'r' ? std::optional(Indication::right)
                          : std::nullopt;
    };
    const auto end_of = [](char c) {
        return c == 'f'   ? std::optional(LampEnd::front)
               : c == 'r' ? std::optional(LampEnd::rear)
                          : std::nullopt;
    };
    if (side_of(letters[1]) && (end_of(letters[0]) || letters[0] == 'm' || letters[0] == 't'))
        return {side_of(letters[1]), end_of(letters[0])};
    if (side_of(letters[0]) && end_of(letters[1])) return {side_of(letters[0]), end_of(letters[1])};
    return said;
}

void judge_tap_label(const Wire& wire, const WireEnd& tap, std::vector<WireFinding>& warnings) {
    const std::string_view says = line_of(wire.label);
    if (!says.empty() && says != tap.name)
        warnings.push_back({Kind::label_against_end, wire.where,
                            fmt::format("{} says {}, but goes to tap {}; one of them is wrong",
                                        wire_name(wire), says, tap.name)});
}

void judge_lamp_label(const Wire& wire, const LampGroup& group, std::vector<WireFinding>& warnings) {
    const Said says = said_by_label(wire.label);
    const bool is_other_side =
        says.side && group.plays.side != Indication::hazard && *says.side != group.plays.side;
    const bool is_other_end = says.at && group.at && *says.at != *group.at;
    if (is_other_side || is_other_end)
        warnings.push_back(
            {Kind::label_against_end, wire.where,
             fmt::format("{} says {}, but goes to lamps {}, whose {} is {}; one of them is wrong",
                         wire_name(wire), is_other_side ? side_name(*says.side) : end_name(*says.at),
                         group.name, is_other_side ? "side" : "place",
                         is_other_side ? side_name(group.plays.side) : end_name(*group.at))});
}

/// "ST+" among the wires RL1 to RL6, where ST- goes to other lamps: two wires were taken for each other.
void judge_likeness(const WiringCase& on, WiringSheet& sheet) {
    std::map<std::string, std::map<const GroupWires*, int>>
        groups_of; // how many wires each has with these letters
    const auto letters_at = [&](const LampWire& end) {
        return letters_of(sheet.wiring.wires[end.wire].label);
    };
    for (const GroupWires& one : on.ends)
        for (const LampWire& end : one.wires)
            ++groups_of[letters_at(end)][&one];
    for (const GroupWires& one : on.ends)
        for (const LampWire& end : one.wires) {
            const std::string own = letters_at(end);
            const auto& groups = groups_of[own];
            if (own.empty() || one.wires.size() < 2 || groups.at(&one) > 1 || groups.size() != 2) continue;
            const auto& other = groups.begin()->first == &one ? *std::next(groups.begin()) : *groups.begin();
            sheet.warnings.push_back(
                {Kind::label_against_end, sheet.wiring.wires[end.wire].where,
                 fmt::format(
                     "{} goes to lamps {}, but is labelled like the wires of lamps {}; one of them is "
                     "wrong",
                     wire_name(sheet.wiring.wires[end.wire]), one.group->name, other.first->group->name)});
        }
}

/// Wires numbered from the middle outward must go to outputs that rise: the board fills in their order.
void judge_order(const GroupWires& one, const WiringCase& on, WiringSheet& sheet) {
    struct Numbered {
        int number;
        int output;
        std::size_t wire;
        const Terminal* at;
    };
    std::map<std::string, std::vector<Numbered>> registers;
    for (const LampWire& end : one.wires)
        for (const std::size_t place : on.nets.ends(end.wire)) {
            const Terminal& output = on.nets.at(place);
            const std::optional<int> number = number_of(sheet.wiring.wires[end.wire].label);
            if (output.role == Role::output && output.output > 0 && number)
                registers[output.name].push_back({*number, output.output, end.wire, &output});
        }
    for (auto& [name, wires] : registers) {
        std::stable_sort(wires.begin(), wires.end(),
                         [](const Numbered& a, const Numbered& b) { return a.number < b.number; });
        for (std::size_t i = 1; i < wires.size(); ++i)
            if (wires[i].output < wires[i - 1].output && wires[i].number != wires[i - 1].number) {
                const Wire& before = sheet.wiring.wires[wires[i - 1].wire];
                const Wire& wire = sheet.wiring.wires[wires[i].wire];
                sheet.warnings.push_back(
                    {Kind::lamps_out_of_order, wire.where,
                     fmt::format(
                         "lamps {}: {} goes to {} and {} to {}: they would light in another order than "
                         "they are numbered",
                         one.group->name, wire_name(before), wires[i - 1].at->text, wire_name(wire),
                         wires[i].at->text)});
                break;
            }
    }
}

} // namespace

void judge_names(const WiringCase& on, WiringSheet& sheet) {
    for (const LampContradiction& one : contradictions_of(on.lamps))
        sheet.warnings.push_back(
            {one.kind == LampContradiction::Kind::name ? Kind::name_against_side : Kind::sides_unequal,
             one.where, one.text});
    for (const LampGroup& group : on.lamps)
        if (!group.at)
            sheet.not_judged.push_back(fmt::format(
                "lamps {}: whether name and wires fit its place; enter at = \"front\" or \"rear\"",
                group.name));
    const bool stops = std::any_of(on.lamps.begin(), on.lamps.end(),
                                   [](const LampGroup& group) { return group.plays.job == core::Job::stop; });
    for (const Wire& wire : sheet.wiring.wires)
        if (const WireEnd* const tap = wire.end(WireEnd::Kind::tap)) {
            judge_tap_label(wire, *tap, sheet.warnings);
            if (tap->name == "brake" && !stops)
                sheet.not_judged.push_back(fmt::format(
                    "{}: what shows the brake; no [[lamps]] has job = \"stop\"", wire_name(wire)));
        }
    judge_likeness(on, sheet);
    for (const GroupWires& one : on.ends) {
        for (const LampWire& end : one.wires)
            judge_lamp_label(sheet.wiring.wires[end.wire], *one.group, sheet.warnings);
        judge_order(one, on, sheet);
    }
}

} // namespace winkhold::bike
