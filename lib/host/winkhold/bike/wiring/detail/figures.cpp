// Figures that contradict each other, and those that no real part has.
#include "winkhold/base/joined.hpp"
#include "winkhold/base/vehicle/plausible.hpp"
#include "winkhold/bike/wiring/detail/judges.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using Kind = WireFinding::Kind;
using Role = Terminal::Role;

/// Rounded down a little is no contradiction, rounded up to a handy figure neither.
constexpr double least_share = 0.99;
constexpr double most_share = 1.5;

void judge_current(const Wire& wire, std::vector<WireFinding>& findings) {
    if (!wire.current_ma || !wire.computed_ma || *wire.computed_ma <= 0) return;
    const double share = *wire.current_ma / *wire.computed_ma;
    if (share >= least_share && share <= most_share) return;
    findings.push_back(
        {Kind::current_differs, wire.where,
         fmt::format("{}: current_ma = {:.4g}, but what it leads to takes {:.4g} mA at 16 V; correct it or "
                     "leave it out",
                     wire_name(wire), *wire.current_ma, *wire.computed_ma)});
}

/// A wire's way as another section says it.
struct Run {
    std::optional<int> awg;
    std::optional<double> length_m;
    std::string of; ///< who says so
};

/// Rounding, and where one measures from.
bool differs(double a_m, double b_m) {
    return std::abs(a_m - b_m) > 0.05 + 0.1 * std::max(a_m, b_m);
}

void judge_run(const Wire& wire, const Run& run, WiringSheet& sheet) {
    const auto find = [&](const std::string& what) {
        sheet.findings.push_back(
            {Kind::run_differs, wire.where,
             fmt::format("{}: {} ({}); the voltage drop is computed with that one: correct one",
                         wire_name(wire), what, run.of)});
    };
    if (wire.length_m && run.length_m && differs(*wire.length_m, *run.length_m))
        find(fmt::format("length_m = {:g}, not {:g}", *wire.length_m, *run.length_m));
    const auto tell = [&](const std::string& text) {
        if (std::find(sheet.not_judged.begin(), sheet.not_judged.end(), text) == sheet.not_judged.end())
            sheet.not_judged.push_back(text);
    };
    if (wire.length_m && !run.length_m)
        tell(fmt::format("length_m of wires against that of {}, which is not given", run.of));
    if (!wire.length_m && run.length_m)
        tell(fmt::format("length_m of {} against that of its wires, not all of which is given", run.of));
    if (wire.awg && !run.awg && run.length_m)
        tell(fmt::format("awg of wires against that of {}, which is not given", run.of));
    if (wire.awg && run.awg && *wire.awg != *run.awg)
        find(fmt::format("awg = {}, not {}", *wire.awg, *run.awg));
}

std::optional<double> figure_of(const Wire& wire, std::string_view key) {
    if (key == "awg") return wire.awg;
    if (key == "length_m") return wire.length_m;
    if (key == "fuse_a") return wire.fuse_a;
    return wire.current_ma;
}

void judge_plausible(const Wire& wire, std::vector<WireFinding>& warnings) {
    for (const Usual& usual : usual_values()) {
        if (usual.section != "wires") continue;
        const std::optional<double> value = figure_of(wire, usual.key);
        if (value && (*value < usual.least || *value > usual.most))
            warnings.push_back(
                {Kind::implausible, wire.where,
                 fmt::format("{}: {} = {:g} is implausible, usual {:g} to {:g} {}", wire_name(wire),
                             usual.key, *value, usual.least, usual.most, usual.unit)});
    }
}

} // namespace

void judge_figures(const WiringCase& on, WiringSheet& sheet) {
    const std::vector<Wire>& wires = sheet.wiring.wires;
    for (const Wire& wire : wires) {
        judge_current(wire, sheet.findings);
        judge_plausible(wire, sheet.warnings);
    }
    for (const GroupWires& one : on.ends)
        for (const LampWire& end : one.wires)
            if (wires[end.wire].ends_at(WireEnd::Kind::board) || wires[end.wire].ends_at(WireEnd::Kind::pin))
                judge_run(wires[end.wire],
                          {one.group->awg, one.group->length_m, "[[lamps]] " + one.group->name}, sheet);
    for (std::size_t i = 0; i < wires.size(); ++i) {
        const bool is_feed = is_live(wires[i]) || wires[i].ends_at(WireEnd::Kind::ground);
        if (is_feed && wires[i].ends_at(WireEnd::Kind::board))
            judge_run(wires[i], {on.board.awg, on.board.length_m, "[board]"}, sheet);
    }
}

void judge_ground(const WiringCase& on, WiringSheet& sheet) {
    const std::vector<Wire>& wires = sheet.wiring.wires;
    const std::vector<std::size_t> grounds = ground_wires(on.nets, sheet.wiring);
    if (grounds.empty()) return;
    std::vector<std::string> names;
    double carries_a = 0;
    bool all_known = true;
    for (const std::size_t place : grounds) {
        const std::optional<Gauge> gauge = gauge_of(wires[place].awg.value_or(0));
        names.push_back(wire_name(wires[place]));
        all_known = all_known && gauge;
        if (gauge) carries_a += ampacity_a(wires[place], *gauge);
    }
    double fed_ma = 0; // what is given for the supply returns, too
    for (const Wire& wire : wires)
        if (is_live(wire) && wire.ends_at(WireEnd::Kind::board)) fed_ma += load_ma(wire).value_or(0);
    const double returns_ma = std::max(fed_ma, sheet.loads.feed_ma.value_or(0));
    if (returns_ma <= 0)
        sheet.not_judged.push_back(fmt::format("ground: what returns through {} is not known: the supply's "
                                               "current_ma, or [board] board_ma and the lamps' strings",
                                               joined(names, ", ")));
    else if (all_known && returns_ma / 1e3 > carries_a)
        sheet.findings.push_back(
            {Kind::ground_too_thin, wires[grounds.front()].where,
             fmt::format("{} carr{} {:g} A, but {:.4g} mA return through {}: all lamps and the board; take a "
                         "thicker wire",
                         joined(names, ", "), grounds.size() == 1 ? "ies" : "y", carries_a, returns_ma,
                         grounds.size() == 1 ? "it" : "them")});
}

} // namespace winkhold::bike
