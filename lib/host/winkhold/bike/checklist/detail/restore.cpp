// The way back to the factory's state: what was put on, in the order in which it comes off.
#include "winkhold/base/joined.hpp"
#include "winkhold/bike/checklist/detail/points.hpp"

#include "winkhold/bike/wiring/detail/judges.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using End = WireEnd::Kind;

template <class Pick>
std::vector<std::string> names_of(const Wiring& wiring, Pick&& pick) {
    std::vector<std::string> names;
    for (const Wire& wire : wiring.wires)
        if (pick(wire)) names.push_back(wire_name(wire));
    return names;
}

} // namespace

std::vector<std::string> restore_steps(const Wiring& wiring, const Lamps& lamps) {
    std::vector<std::string> steps{"Key off. Battery minus off first, then plus."};
    const auto off = [&](const char* what, const std::vector<std::string>& names, const char* then) {
        if (!names.empty()) steps.push_back(fmt::format("{} {}. {}", what, joined(names, ", "), then));
    };
    off("Take off", names_of(wiring, is_live), "Fuse and holder go, too; put back what sat there.");
    for (const Wire& wire : wiring.wires) {
        const WireEnd* const tap = wire.end(End::tap);
        if (tap == nullptr) continue;
        steps.push_back(
            wire.cuts ? fmt::format("{}: join the {} line that was cut, soldered or crimped, and seal it.",
                                    wire_name(wire), tap->name)
                      : fmt::format("{}: take the tap off the {} line and seal the place.", wire_name(wire),
                                    tap->name));
    }
    off("Take off",
        names_of(wiring, [](const Wire& wire) { return wire.ends_at(End::ground) && !is_live(wire); }),
        "Leave the factory's own ground wires under their bolts.");
    std::vector<std::string> groups;
    for (const LampGroup& group : lamps)
        groups.push_back(group.name);
    if (!groups.empty())
        steps.push_back(
            fmt::format("Take the board off, then lamps {} with their wires.", joined(groups, ", ")));
    else
        steps.push_back("Take the board off, then its lamps with their wires.");
    for (const Kept& kept : wiring.kept)
        if (!kept.connected) steps.push_back(fmt::format("Plug in {} again.", kept.name));
    steps.push_back(
        "Put back the factory's lamps, bulbs and reflectors that were taken off, the flasher unit "
        "too if it was exchanged.");
    steps.push_back("Battery plus on first, then minus. Look at every lamp, tell-tale and both brakes, and "
                    "count the flashes: the rate must be the factory's again.");
    return steps;
}

} // namespace winkhold::bike
