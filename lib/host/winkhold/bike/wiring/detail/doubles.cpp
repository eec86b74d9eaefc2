// What stands twice: labels, wires on a pin, wires in a cavity, jobs of a pin.
#include "winkhold/bike/wiring/detail/judges.hpp"

#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using Kind = WireFinding::Kind;
using End = WireEnd::Kind;

/// Wires by what they must not share, written small and without outer blanks.
using Sharing = std::map<std::string, std::vector<const Wire*>>;

/// Factory lines that are joined are told as such.
bool joins_taps(const Wire& a, const Wire& b) {
    return a.ends_at(End::tap) && b.ends_at(End::tap) && a.end(End::tap)->name != b.end(End::tap)->name &&
           a.ends_at(End::pin) && b.ends_at(End::pin);
}

template <class Say>
void find_sharing(const Sharing& sharing, Kind kind, std::vector<WireFinding>& findings, Say&& say) {
    for (const auto& [key, wires] : sharing)
        for (std::size_t i = 1; i < wires.size(); ++i)
            if (kind != Kind::pin_double || !joins_taps(*wires[0], *wires[i]))
                findings.push_back({kind, wires[i]->where, say(*wires[0], *wires[i])});
}

struct PinJob {
    std::string pin; ///< as it is written there
    std::string text;
    std::string where;
    const LampGroup* group; ///< null: a wire's
    const Wire* wire;       ///< null: a group's
};

/// A driver or a register stands between this pin and the lamps.
bool is_driven(const LampGroup& group) {
    return group.driver == LampDriver::transistor || group.driver == LampDriver::shift_register;
}

/// Both can be true of one pin.
bool agree(const PinJob& a, const PinJob& b) {
    if (a.group != nullptr && b.group != nullptr) // registers in a chain share clock, latch and data
        return a.group->driver == LampDriver::shift_register && b.group->driver == LampDriver::shift_register;
    if (a.wire != nullptr && b.wire != nullptr) return true; // two wires on a pin, which is told anyway
    const PinJob& lamps = a.group != nullptr ? a : b;
    const PinJob& wired = a.group != nullptr ? b : a;
    const WireEnd& other = other_end(*wired.wire, End::pin);
    if (other.kind == End::lamps) return same_name(other.name, lamps.group->name);
    return is_driven(*lamps.group) && (other.kind == End::part || other.kind == End::board);
}

} // namespace

void judge_labels(const Wiring& wiring, std::vector<WireFinding>& findings) {
    Sharing labels;
    for (const Wire& wire : wiring.wires)
        if (const std::string label = plain_name(wire.label); !label.empty())
            labels[label].push_back(&wire);
        else
            findings.push_back({Kind::no_label, wire.where,
                                fmt::format("{} has no label; mark both its ends and write label = \"...\"",
                                            wire_name(wire))});
    find_sharing(labels, Kind::label_double, findings, [](const Wire& first, const Wire& again) {
        return fmt::format("label \"{}\" is on another wire, too ({}); give each its own", again.label,
                           first.where);
    });
}

void judge_pins(const Wiring& wiring, const Lamps& lamps, std::vector<WireFinding>& findings) {
    Sharing on_pin;
    std::map<std::string, std::vector<PinJob>> jobs;
    for (const LampGroup& group : lamps)
        for (const std::string& pin : group.pins)
            jobs[plain_name(pin)].push_back(
                {pin, fmt::format("lights lamps {}", group.name), place_of(group), &group, nullptr});
    for (const Wire& wire : wiring.wires)
        for (const WireEnd* end : {&wire.from, &wire.to})
            if (end->kind == End::pin) {
                on_pin[plain_name(end->name)].push_back(&wire);
                jobs[plain_name(end->name)].push_back(
                    {end->name, fmt::format("goes to {}", text(other_end(wire, End::pin))), wire.where,
                     nullptr, &wire});
            }
    find_sharing(on_pin, Kind::pin_double, findings, [](const Wire& first, const Wire& again) {
        return fmt::format("{} is the second one on {}, after {}; a pin takes one wire, join them before it",
                           wire_name(again), text(*again.end(End::pin)), wire_name(first));
    });
    for (const auto& [key, list] : jobs)
        for (std::size_t i = 1; i < list.size(); ++i)
            if (!agree(list[0], list[i]))
                findings.push_back({Kind::pin_two_jobs, list[i].where,
                                    fmt::format("pin {} has two jobs: {} ({}), and {}; move one of them",
                                                list[i].pin, list[0].text, list[0].where, list[i].text)});
}

void judge_cavities(const Wiring& wiring, std::vector<WireFinding>& findings) {
    Sharing cavities;
    for (const Wire& wire : wiring.wires)
        if (!wire.connector.empty() && !wire.cavity.empty())
            cavities[plain_name(wire.connector) + '\n' + plain_name(wire.cavity)].push_back(&wire);
    find_sharing(cavities, Kind::cavity_double, findings, [](const Wire& first, const Wire& again) {
        return fmt::format("{} sits in cavity {} of connector {}, and so does {}; give each its own",
                           wire_name(again), again.cavity, again.connector, wire_name(first));
    });
}

} // namespace winkhold::bike
