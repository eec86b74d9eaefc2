// What no wire reaches, and what is cut off.
#include "winkhold/base/joined.hpp"
#include "winkhold/bike/wiring/detail/judges.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using Kind = WireFinding::Kind;
using End = WireEnd::Kind;

bool is_reached(const Wiring& wiring, End kind, std::string_view name) {
    return std::any_of(wiring.wires.begin(), wiring.wires.end(), [&](const Wire& wire) {
        const WireEnd* const end = wire.end(kind);
        return end != nullptr && same_name(end->name, name);
    });
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
    if (lamps.empty() && !wiring.wires.empty())
        for (const std::string_view line : {"left", "right"})
            need(line, "the decoder listens to it", wiring.wires.front().where);
    return needed;
}

/// Any wire from a pin to a group must come from one of its pins, and then each of them has one.
void judge_lamp_pins(const Lamps& lamps, const Wiring& wiring, std::vector<WireFinding>& findings) {
    for (const LampGroup& group : lamps) {
        std::vector<std::string> wired;
        for (const Wire& wire : wiring.wires) {
            const WireEnd* const pin = wire.end(End::pin);
            const WireEnd* const to = wire.end(End::lamps);
            if (pin == nullptr || to == nullptr || !same_name(to->name, group.name)) continue;
            wired.push_back(plain_name(pin->name));
            const bool is_listed = std::any_of(group.pins.begin(), group.pins.end(),
                                               [&](const auto& one) { return same_name(one, pin->name); });
            if (!group.pins.empty() && !is_listed)
                findings.push_back(
                    {Kind::pin_two_jobs, wire.where,
                     fmt::format("{} takes {} to lamps {}, whose pins are {} ({}); one of them is "
                                 "wrong",
                                 wire_name(wire), text(*pin), group.name, joined(group.pins, ", "),
                                 place_of(group))});
        }
        if (wired.empty()) continue;
        for (const std::string& pin : group.pins)
            if (std::find(wired.begin(), wired.end(), plain_name(pin)) == wired.end())
                findings.push_back(
                    {Kind::lamp_pin_not_reached, place_of(group),
                     fmt::format("no wire takes pin {} to lamps {}; add it to [[wires]]", pin, group.name)});
    }
}

} // namespace

void judge_reach(const Lamps& lamps, WiringSheet& sheet) {
    const Wiring& wiring = sheet.wiring;
    std::vector<WireFinding>& findings = sheet.findings;
    for (const LampGroup& group : lamps)
        if (!is_reached(wiring, End::lamps, group.name))
            findings.push_back({Kind::lamps_not_reached, place_of(group),
                                fmt::format("no wire goes to lamps {}; add it to [[wires]]", group.name)});
    judge_lamp_pins(lamps, wiring, findings);
    for (const NeededTap& tap : needed_taps(lamps, wiring))
        if (!is_reached(wiring, End::tap, tap.line))
            findings.push_back({Kind::tap_not_reached, tap.where,
                                fmt::format("no wire comes from tap {}, though {}; add it to [[wires]]",
                                            tap.line, tap.why)});
    if (lamps.empty())
        sheet.not_judged.push_back("lamps: the file has no [[lamps]], so whether wires reach "
                                   "them and their pins are free is not known");
    for (const Wire& wire : wiring.wires) {
        const WireEnd* const to = wire.end(End::lamps);
        if (to != nullptr && !lamps.empty() &&
            std::none_of(lamps.begin(), lamps.end(),
                         [&](const LampGroup& group) { return same_name(group.name, to->name); }))
            findings.push_back(
                {Kind::lamps_not_known, wire.where,
                 fmt::format("{} goes to lamps {}, which no [[lamps]] is named", wire_name(wire), to->name)});
        if ((wire.ends_at(End::battery) || wire.ends_at(End::switched) || wire.ends_at(End::tap)) &&
            wire.ends_at(End::ground))
            findings.push_back({Kind::short_circuit, wire.where,
                                fmt::format("{} joins {} to {}: a short circuit", wire_name(wire),
                                            text(wire.from), text(wire.to))});
    }
}

void judge_kept(WiringSheet& sheet) {
    for (const Wire& wire : sheet.wiring.wires) {
        if (!wire.cuts) continue;
        std::string loses;
        const WireEnd* const tap = wire.end(End::tap);
        for (const Kept& kept : sheet.wiring.kept)
            if (tap != nullptr && kept.line == tap->name)
                loses += (loses.empty() ? "; this takes off " : ", ") + kept.name;
        sheet.findings.push_back(
            {Kind::cut_line, wire.where,
             fmt::format("{} cuts the factory line{}; tap it and leave it whole", wire_name(wire), loses)});
    }
    bool has_tell_tale = false;
    for (const Kept& kept : sheet.wiring.kept) {
        has_tell_tale = has_tell_tale || kept.kind == Kept::Kind::tell_tale;
        if (!kept.connected)
            sheet.findings.push_back(
                {Kind::kept_unplugged, kept.where,
                 fmt::format("{} \"{}\" must stay connected, but is not; plug it in again", name(kept.kind),
                             kept.name)});
    }
    if (!has_tell_tale)
        sheet.not_judged.push_back(
            "tell-tales: none is named in [[keep]], so nobody checks that they still work");
}

} // namespace winkhold::bike
