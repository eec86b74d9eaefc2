// Whether the board is fed and hears the factory lines.
#include "winkhold/base/joined.hpp"
#include "winkhold/bike/wiring/detail/judges.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using Kind = WireFinding::Kind;
using Role = Terminal::Role;

/// One of the two rails that the board needs.
struct NeededRail {
    Kind kind;
    std::vector<Role> rails;
    Role terminal; ///< of the board
    std::string says;
};

bool has_any(const Nets& nets, const Nets::Net& net, const std::vector<Role>& roles) {
    return std::any_of(roles.begin(), roles.end(),
                       [&](Role role) { return nets.find(net, role) != nullptr; });
}

bool is_key_line(const Nets& nets, const Nets::Net& net) {
    const Terminal* const tap = nets.find(net, Role::tap);
    return tap != nullptr && tap->name == "supply";
}

void judge_rail(const NeededRail& needed, const WiringCase& on, WiringSheet& sheet) {
    bool may_go_on = false; // by a part that can't be followed
    for (const Nets::Net& net : on.nets.all()) {
        if (net.is_shorted()) return;
        const bool on_board = has_any(on.nets, net, {needed.terminal, Role::board_other});
        const bool on_rail = has_any(on.nets, net, needed.rails) ||
                             (needed.terminal == Role::board_supply && is_key_line(on.nets, net));
        if (on_board && on_rail) return;
        may_go_on = may_go_on || (net.is_part && (has_any(on.nets, net, {needed.terminal}) || on_rail));
    }
    if (may_go_on)
        sheet.not_judged.push_back(needed.says +
                                   ": the way there goes by a part or a terminal that can't be followed");
    else
        sheet.findings.push_back({needed.kind, sheet.wiring.wires.front().where,
                                  fmt::format("no way of wires {}; add it to [[wires]]", needed.says)});
}

/// A factory line that the board must hear, and what for.
struct NeededTap {
    std::string_view line;
    std::string why;
    std::string where;
};

/// The lines that a group follows, the first group that does so for each. Without lamps: both turn lines.
std::vector<NeededTap> needed_taps(const Lamps& lamps, const Wiring& wiring) {
    using core::Indication;
    using core::Job;
    std::vector<NeededTap> needed;
    const auto need = [&](std::string_view line, const std::string& why, const std::string& where) {
        if (std::none_of(needed.begin(), needed.end(),
                         [&](const NeededTap& tap) { return tap.line == line; }))
            needed.push_back({line, why, where});
    };
    for (const LampGroup& group : lamps) {
        const core::LampGroup& plays = group.plays;
        const std::string why = fmt::format("lamps {} follow it", group.name);
        const auto follows = [&](std::string_view line) { need(line, why, place_of(group)); };
        if (plays.job == Job::turn && plays.side != Indication::right) follows("left");
        if (plays.job == Job::turn && plays.side != Indication::left) follows("right");
        if (plays.job == Job::stop) follows("brake");
        if (plays.job == Job::tail || (plays.job == Job::stop && plays.dimmed > 0)) follows("tail");
    }
    if (lamps.empty())
        for (const std::string_view line : {"left", "right"})
            need(line, "the decoder listens to it", wiring.wires.front().where);
    return needed;
}

const Nets::Net* net_of_tap(const Nets& nets, std::string_view line) {
    for (const Nets::Net& net : nets.all())
        for (const Terminal* tap : nets.all(net, Role::tap))
            if (tap->name == line) return &net;
    return nullptr;
}

void judge_tap(const NeededTap& needed, const WiringCase& on, WiringSheet& sheet) {
    const Nets::Net* const net = net_of_tap(on.nets, needed.line);
    const auto find = [&](const std::string& where, const std::string& what) {
        sheet.findings.push_back(
            {Kind::tap_not_reached, where,
             fmt::format("{} tap {}, though {}; add it to [[wires]]", what, needed.line, needed.why)});
    };
    if (net == nullptr) return find(needed.where, "no wire comes from");
    if (on.nets.find(*net, Role::pin) != nullptr) return;
    if (net->is_part)
        sheet.not_judged.push_back(fmt::format("tap {}: whether the board hears it; {} can't be "
                                               "followed to a pin",
                                               needed.line,
                                               wire_name(sheet.wiring.wires[net->wires.front()])));
    else
        find(sheet.wiring.wires[net->wires.front()].where, "no pin is at the end of");
}

/// The firmware reads each line at its own pin.
void judge_tap_pins(const WiringCase& on, WiringSheet& sheet) {
    bool any = false;
    for (std::size_t line = 0; line < tap_lines.size(); ++line) {
        const Nets::Net* const net = net_of_tap(on.nets, tap_lines[line]);
        const Terminal* const pin = net == nullptr ? nullptr : on.nets.find(*net, Role::pin);
        if (pin == nullptr) continue;
        any = true;
        if (line >= on.board.tap_pins.size()) continue;
        const std::string& meant = on.board.tap_pins[line];
        const std::vector<const Terminal*> pins = on.nets.all(*net, Role::pin);
        const bool is_there = std::any_of(
            pins.begin(), pins.end(), [&](const Terminal* one) { return one->name == plain_name(meant); });
        if (is_there) continue;
        sheet.findings.push_back(
            {Kind::wrong_pin, sheet.wiring.wires[net->wires.back()].where,
             meant.empty()
                 ? fmt::format("tap {} comes to {}, but the firmware reads no such line ([board] tap_pins)",
                               tap_lines[line], pin->text)
                 : fmt::format("tap {} comes to {}, but the firmware reads it at pin {} ([board] tap_pins)",
                               tap_lines[line], pin->text, meant)});
    }
    if (any && on.board.tap_pins.empty())
        sheet.not_judged.push_back("taps: at which pin the firmware reads each of left, right, brake, tail, "
                                   "supply is not known ([board] tap_pins)");
}

} // namespace

void judge_supply_and_taps(const WiringCase& on, WiringSheet& sheet) {
    judge_rail({Kind::board_no_supply,
                {Role::battery, Role::switched},
                Role::board_supply,
                "from the battery or a switched line to the board's plus"},
               on, sheet);
    judge_rail(
        {Kind::board_no_ground, {Role::ground}, Role::board_ground, "from the board's minus to ground"}, on,
        sheet);
    for (const NeededTap& tap : needed_taps(on.lamps, sheet.wiring))
        judge_tap(tap, on, sheet);
    judge_tap_pins(on, sheet);
}

} // namespace winkhold::bike
