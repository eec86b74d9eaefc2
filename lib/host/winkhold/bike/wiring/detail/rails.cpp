// What is joined that must not be: rails, factory lines, pins and outputs, each net by itself.
#include "winkhold/base/joined.hpp"
#include "winkhold/bike/wiring/detail/judges.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <initializer_list>

namespace winkhold::bike {
namespace {

using Kind = WireFinding::Kind;
using Role = Terminal::Role;
using core::Indication;

/// Looks at one net after the other.
class RailJudge {
public:
    RailJudge(const WiringCase& on, WiringSheet& sheet) : on_(on), sheet_(sheet) {}

    /// The first thing that is wrong with a net; what follows from it isn't told again.
    void judge(const Nets::Net& net) {
        const Terminal* const ground = first(net, {Role::ground, Role::board_ground});
        const Terminal* const plus =
            first(net, {Role::battery, Role::switched, Role::board_supply, Role::lamp_feed});
        const std::vector<const Terminal*> taps = on_.nets.all(net, Role::tap);
        if (ground != nullptr && (plus != nullptr || !taps.empty()))
            return find(Kind::short_circuit, net, plus != nullptr ? *plus : *taps[0], *ground,
                        "a short circuit");
        if (taps.size() > 1)
            return find(Kind::taps_joined, net, *taps[0], *taps[1],
                        "each of these factory lines would light the other's lamps; part them");
        if (!taps.empty() && plus != nullptr && !may_feed(*taps[0], *plus))
            return find(Kind::tap_on_live, net, *taps[0], *plus,
                        "the factory line would be live for good, or feed the board; part them");
        for (const Terminal* switching : net.outputs)
            if (judge_switching(net, *switching, plus, ground, taps)) return;
        judge_outputs(net);
    }

private:
    const Terminal* first(const Nets::Net& net, std::initializer_list<Role> roles) const {
        for (const Role role : roles)
            if (const Terminal* const found = on_.nets.find(net, role)) return found;
        return nullptr;
    }

    /// The board may live on the line that the key switches.
    static bool may_feed(const Terminal& tap, const Terminal& plus) {
        return tap.name == "supply" && plus.role != Role::battery;
    }

    bool lights_lamps(const Terminal& pin) const {
        return std::any_of(on_.lamps.begin(), on_.lamps.end(), [&](const LampGroup& group) {
            return std::any_of(group.pins.begin(), group.pins.end(),
                               [&](const std::string& one) { return same_name(one, pin.name); });
        });
    }

    bool judge_switching(const Nets::Net& net, const Terminal& switching, const Terminal* plus,
                         const Terminal* ground, const std::vector<const Terminal*>& taps) {
        if (switching.role == Role::output) {
            const Terminal* const rail = plus != nullptr     ? plus
                                         : ground != nullptr ? ground
                                         : !taps.empty()     ? taps[0]
                                                             : nullptr;
            if (rail == nullptr) return false;
            find(Kind::output_on_rail, net, switching, *rail,
                 "an output goes to lamps and nothing else: it would burn, or they would be lit for good");
            return true;
        }
        if (plus != nullptr) {
            find(Kind::pin_on_rail, net, switching, *plus,
                 "12 V straight on a pin; a factory line comes by the divider of [front_end]: write tap ...");
            return true;
        }
        if (ground != nullptr && lights_lamps(switching)) {
            find(Kind::pin_on_rail, net, switching, *ground, "a pin that lights lamps is no return");
            return true;
        }
        if (ground != nullptr)
            sheet_.not_judged.push_back(
                fmt::format("{} is joined to {} ({}): what the firmware makes of that is not known",
                            switching.text, ground->text, way_text(net, switching, *ground)));
        return false;
    }

    void judge_outputs(const Nets::Net& net) {
        const bool has_lamps = on_.nets.find(net, Role::lamps) != nullptr;
        std::vector<const Terminal*> switching;
        for (const Terminal* one : net.outputs)
            if (one->role == Role::output || lights_lamps(*one) || has_lamps) switching.push_back(one);
        if (switching.empty()) return;
        if (net.left && net.right)
            return find(
                Kind::sides_on_one_output, net, lamps_of_side(net, Indication::left),
                lamps_of_side(net, Indication::right),
                fmt::format("both hang on {}, so both sides would light together", switching[0]->text));
        if (switching.size() > 1)
            find(Kind::outputs_joined, net, *switching[0], *switching[1],
                 "two outputs on one wire work against each other; give each its own");
    }

    /// A net that has any.
    const Terminal& lamps_of_side(const Nets::Net& net, Indication side) const {
        const std::vector<const Terminal*> all = on_.nets.all(net, Role::lamps);
        return **std::find_if(all.begin(), all.end(), [&](const Terminal* lamps) {
            return std::any_of(on_.lamps.begin(), on_.lamps.end(), [&](const LampGroup& group) {
                return same_name(group.name, lamps->name) && group.plays.side == side;
            });
        });
    }

    std::string way_text(const Nets::Net& net, const Terminal& from, const Terminal& to) const {
        std::vector<std::string> names;
        for (const std::size_t wire : on_.nets.way(net, from, to))
            names.push_back(wire_name(sheet_.wiring.wires[wire]));
        return joined(names, ", ");
    }

    /// At the last wire of the way in the file's order: the one that closed it.
    void find(Kind kind, const Nets::Net& net, const Terminal& a, const Terminal& b, const std::string& why) {
        const std::vector<std::size_t> way = on_.nets.way(net, a, b);
        const Wire& last = sheet_.wiring.wires[*std::max_element(way.begin(), way.end())];
        sheet_.findings.push_back(
            {kind, last.where,
             fmt::format("{} and {} are joined by {}: {}", a.text, b.text, way_text(net, a, b), why)});
    }

    const WiringCase& on_;
    WiringSheet& sheet_;
};

} // namespace

void judge_rails(const WiringCase& on, WiringSheet& sheet) {
    RailJudge judge(on, sheet);
    for (const Nets::Net& net : on.nets.all())
        judge.judge(net);
}

} // namespace winkhold::bike
