// Whether current can flow through each group of lamps, and only when it should.
#include "winkhold/base/joined.hpp"
#include "winkhold/bike/wiring/detail/judges.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <set>

namespace winkhold::bike {
namespace {

using Kind = WireFinding::Kind;
using End = WireEnd::Kind;

class LampReach {
public:
    LampReach(const WiringCase& on, WiringSheet& sheet) : on_(on), sheet_(sheet) {}

    void judge(const GroupWires& one) {
        if (one.wires.empty())
            return find(Kind::lamps_not_reached, one, place_of(*one.group), "no wire goes to them");
        if (std::any_of(one.wires.begin(), one.wires.end(),
                        [](const LampWire& wire) { return wire.net->is_shorted(); }))
            return;
        const std::vector<std::size_t> plus = one.bringing(&Nets::Net::plus);
        const std::vector<std::size_t> ground = one.bringing(&Nets::Net::ground);
        const std::vector<std::size_t> taps = one.bringing(&Nets::Net::tap);
        const std::vector<std::size_t> open = one.open();
        if (!taps.empty())
            return find(Kind::lamps_on_tap, one, where(taps),
                        names(taps) + " joins them to a factory line, past the board; take it off");
        if (!plus.empty() && !ground.empty())
            return find(Kind::lamps_always_lit, one, where(ground),
                        fmt::format("{} brings plus and {} ground, with no driver between: they are lit for "
                                    "good; take one to the board's driver",
                                    names(plus), names(ground)));
        const std::vector<const Terminal*> outputs = one.outputs();
        if (outputs.empty() && plus.empty() && ground.empty()) // all are open
            return tell_open(one, open, "how they are lit");
        if (!open.empty()) tell_open(one, open, "whether plus and return are there");
        if (!outputs.empty())
            return judge_rail(one, *outputs[0], !plus.empty(), !ground.empty(), open.empty());
        if (!open.empty()) return;
        if (plus.empty())
            find(Kind::lamps_no_plus, one, where(ground),
                 names(ground) + " brings ground, but none brings plus");
        else
            find(Kind::lamps_no_return, one, where(plus),
                 names(plus) + " brings plus, but none goes back to a driver");
    }

private:
    /// Lamps behind outputs hang on the other rail: plus if the outputs sink, ground if they feed.
    void judge_rail(const GroupWires& one, const Terminal& output, bool plus, bool ground, bool all_known) {
        const std::optional<RegisterKind> kind =
            output.driver == LampDriver::shift_register ? on_.board.register_kind : std::nullopt;
        const bool feeds = output.role == Terminal::Role::pin || kind == RegisterKind::logic;
        const bool sinks = kind == RegisterKind::power;
        if (plus && feeds)
            return find(
                Kind::lamps_no_return, one, where(one.bringing(&Nets::Net::plus)),
                fmt::format("{} feeds its lamps, and 12 V from the other end would come back into it; "
                            "their return belongs on ground",
                            output.text));
        if (ground && sinks)
            return find(Kind::lamps_no_plus, one, where(one.bringing(&Nets::Net::ground)),
                        fmt::format("{} sinks their current, so their other end belongs on plus, not on "
                                    "ground ([board] register)",
                                    output.text));
        if (plus || ground || !all_known) return;
        if (feeds)
            find(Kind::lamps_no_return, one, where_first(one),
                 fmt::format("{} feeds them, but no wire takes their return to ground", output.text));
        else
            find(Kind::lamps_no_plus, one, where_first(one),
                 fmt::format("{} switches them, but no wire brings plus", output.text));
    }

    void tell_open(const GroupWires& one, const std::vector<std::size_t>& open, const char* what) {
        sheet_.not_judged.push_back(
            fmt::format("lamps {}: {}; {} can't be followed", one.group->name, what, names(open)));
    }

    std::string names(const std::vector<std::size_t>& wires) const {
        std::vector<std::string> names;
        for (const std::size_t wire : wires)
            names.push_back(wire_name(sheet_.wiring.wires[wire]));
        return joined(names, ", ");
    }

    const std::string& where(const std::vector<std::size_t>& wires) const {
        return sheet_.wiring.wires[wires.front()].where;
    }
    const std::string& where_first(const GroupWires& one) const {
        return sheet_.wiring.wires[one.wires.front().wire].where;
    }

    void find(Kind kind, const GroupWires& one, const std::string& where, const std::string& what) {
        sheet_.findings.push_back({kind, where, fmt::format("lamps {}: {}", one.group->name, what)});
    }

    const WiringCase& on_;
    WiringSheet& sheet_;
};

} // namespace

void judge_lamp_reach(const WiringCase& on, WiringSheet& sheet) {
    LampReach reach(on, sheet);
    std::set<std::string> known;
    for (const GroupWires& one : on.ends) {
        reach.judge(one);
        known.insert(plain_name(one.group->name));
    }
    if (on.lamps.empty())
        sheet.not_judged.push_back("lamps: the file has no [[lamps]], so whether wires reach "
                                   "them and their pins are free is not known");
    for (const Wire& wire : sheet.wiring.wires)
        for (const WireEnd* end : {&wire.from, &wire.to})
            if (end->kind == End::lamps && !on.lamps.empty() && !known.contains(plain_name(end->name)))
                sheet.findings.push_back({Kind::lamps_not_known, wire.where,
                                          fmt::format("{} goes to lamps {}, which no [[lamps]] is named",
                                                      wire_name(wire), end->name)});
}

} // namespace winkhold::bike
