// Fuses, gauges and what pins carry.
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/joined.hpp"
#include "winkhold/bike/electrics/wire.hpp"
#include "winkhold/bike/pins/chip_pins.hpp"
#include "winkhold/bike/wiring/detail/judges.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using Kind = WireFinding::Kind;
using End = WireEnd::Kind;

/// What a battery or a factory line can push through until something burns.
bool needs_fuse(const Wire& wire) {
    return (is_live(wire) || wire.ends_at(End::tap)) && !wire.ends_at(End::ground);
}

/// The largest fuse of wires that leave battery, switched line or tap in this net. 0: none.
double source_fuse_a(const Nets::Net& net, const Wiring& wiring) {
    double largest = 0;
    for (const std::size_t wire : net.wires)
        if (needs_fuse(wiring.wires[wire]))
            largest = std::max(largest, wiring.wires[wire].fuse_a.value_or(0));
    return largest;
}

/// The fuse that saves each wire: its own, its source's, or the board's if the board passes on what it was
/// fed. 0: none.
std::vector<double> fuses_before_a(const WiringCase& on, const Wiring& wiring) {
    double feed_a = 0;
    std::map<const Nets::Net*, double> sources;
    for (const Nets::Net& net : on.nets.all()) {
        sources[&net] = source_fuse_a(net, wiring);
        const bool is_fed = on.nets.find(net, Terminal::Role::board_supply) != nullptr ||
                            on.nets.find(net, Terminal::Role::board_other) != nullptr;
        if (is_fed && net.plus) feed_a = std::max(feed_a, sources[&net]);
    }
    std::vector<double> fuses;
    for (std::size_t i = 0; i < wiring.wires.size(); ++i) {
        const Wire& wire = wiring.wires[i];
        const double source_a = sources[&on.nets.of_wire(i)];
        const bool is_fed = wire.ends_at(End::board) && (wire.ends_at(End::lamps) || wire.ends_at(End::part));
        fuses.push_back(wire.fuse_a ? *wire.fuse_a : source_a > 0 ? source_a : is_fed ? feed_a : 0);
    }
    return fuses;
}

/// Which wires a check passed over, told in one sentence for all of them.
class PassedOver {
public:
    explicit PassedOver(std::string why) : why_(std::move(why)) {}
    void add(const Wire& wire) { wires_.push_back(wire_name(wire)); }
    void tell(std::vector<std::string>& not_judged) const {
        if (!wires_.empty()) not_judged.push_back(fmt::format("{}: {}", why_, joined(wires_, ", ")));
    }

private:
    std::string why_;
    std::vector<std::string> wires_;
};

void judge_sum(const std::string& what, double sum_ma, const std::optional<double>& limit_ma, Kind kind,
               const std::string& where, std::vector<WireFinding>& findings) {
    if (limit_ma && sum_ma > *limit_ma)
        findings.push_back(
            {kind, where,
             fmt::format("{} carries {:.4g} mA, its limit is {:.4g} mA; put a driver between, or "
                         "move lamps elsewhere",
                         what, sum_ma, *limit_ma)});
}

} // namespace

std::vector<std::size_t> ground_wires(const Nets& nets, const Wiring& wiring) {
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < wiring.wires.size(); ++i) {
        const bool at_ground = nets.at(nets.ends(i)[0]).role == Terminal::Role::ground ||
                               nets.at(nets.ends(i)[1]).role == Terminal::Role::ground;
        if (at_ground && !wiring.wires[i].ends_at(End::lamps) &&
            nets.find(nets.of_wire(i), Terminal::Role::board_ground) != nullptr)
            found.push_back(i);
    }
    return found;
}

void compute_loads(const WiringCase& on, WiringSheet& sheet) {
    std::vector<Wire>& wires = sheet.wiring.wires;
    const Loads& loads = sheet.loads;
    for (Wire& wire : wires) {
        if (is_live(wire) && wire.ends_at(End::board)) wire.computed_ma = loads.feed_ma;
        if (wire.ends_at(End::tap) && wire.ends_at(End::pin)) wire.computed_ma = loads.tap_ma;
    }
    const std::vector<std::size_t> grounds = ground_wires(on.nets, sheet.wiring);
    if (grounds.size() == 1) wires[grounds[0]].computed_ma = loads.feed_ma;
    for (const GroupWires& one : on.ends) {
        const auto known = loads.group_ma.find(one.group->name);
        // Wires of one group may share its current in any way: only a single one is sure of it, or one of
        // as many outputs as carry alike.
        const std::size_t plus = one.bringing(&Nets::Net::plus).size();
        const std::size_t ground = one.bringing(&Nets::Net::ground).size();
        const int outputs = static_cast<int>(one.outputs().size());
        const bool is_alike = outputs > 0 && one.strings() % outputs == 0 && one.group->in_series.has_value();
        for (const LampWire& end : one.wires) {
            Wire& wire = wires[end.wire];
            if (const WireEnd* const pin = wire.end(End::pin))
                if (const auto pin_ma = loads.pin_ma.find(plain_name(pin->name));
                    pin_ma != loads.pin_ma.end())
                    wire.computed_ma = pin_ma->second;
            if (known == loads.group_ma.end() || wire.computed_ma) continue;
            if ((end.net->plus && plus == 1 && ground == 0) || (end.net->ground && ground == 1 && plus == 0))
                wire.computed_ma = known->second;
            else if (end.net->outputs.size() == 1 && is_alike && !end.net->plus && !end.net->ground)
                wire.computed_ma = known->second / outputs;
        }
    }
}

double ampacity_a(const Wire& wire, const Gauge& gauge) {
    return gauge.ampacity_a * (wire.bundled.value_or(true) ? bundle_share : 1);
}

void judge_fuses(const WiringCase& on, WiringSheet& sheet) {
    const auto find = [&](Kind kind, const Wire& wire, const std::string& text) {
        sheet.findings.push_back({kind, wire.where, fmt::format("{} {}", wire_name(wire), text)});
    };
    PassedOver no_load("load not known (current_ma), so fuse and gauge are not judged by it");
    PassedOver no_gauge("gauge not given, or not in the table (AWG 16, 18, 20, 22, 24)");
    const std::vector<double> fuses_a = fuses_before_a(on, sheet.wiring);
    std::vector<bool> is_ground(sheet.wiring.wires.size());
    for (const std::size_t wire : ground_wires(on.nets, sheet.wiring))
        is_ground[wire] = true;
    for (std::size_t i = 0; i < sheet.wiring.wires.size(); ++i) {
        const Wire& wire = sheet.wiring.wires[i];
        const std::optional<Gauge> gauge = gauge_of(wire.awg.value_or(0));
        const std::optional<double> ma = load_ma(wire);
        const double carries_a = gauge ? ampacity_a(wire, *gauge) : 0;
        const char* const in_bundle = wire.bundled.value_or(true) ? " in a bundle" : "";
        if (needs_fuse(wire) && !wire.fuse_a)
            find(Kind::no_fuse, wire,
                 fmt::format("has no fuse, though {} could burn it; put one where it begins",
                             text(wire.ends_at(End::tap)       ? *wire.end(End::tap)
                                  : wire.ends_at(End::battery) ? *wire.end(End::battery)
                                                               : *wire.end(End::switched))));
        if (wire.fuse_a && ma && *ma / 1e3 / fuse_loaded_to > *wire.fuse_a) {
            const auto [needed, given] = told_apart(*ma / 1e3 / fuse_loaded_to, *wire.fuse_a);
            find(Kind::fuse_too_small, wire,
                 fmt::format("carries {:.4g} mA, so its fuse must be {} A or more (load / 0.75), not {} A",
                             *ma, needed, given));
        }
        if (gauge && fuses_a[i] > carries_a)
            find(Kind::fuse_too_large, wire,
                 fmt::format("carries {:g} A at AWG {}{}, but {} fuse is {:g} A: the wire would burn first; "
                             "thicker wire or a smaller fuse",
                             carries_a, gauge->awg, in_bundle,
                             wire.fuse_a                                           ? "its"
                             : source_fuse_a(on.nets.of_wire(i), sheet.wiring) > 0 ? "its source's"
                                                                                   : "the board's",
                             fuses_a[i]));
        if (gauge && ma && *ma / 1e3 > carries_a && !is_ground[i]) // that is judged as a whole
            find(Kind::wire_overloaded, wire,
                 fmt::format("carries {:.4g} mA, AWG {}{} only {:g} A; take a thicker one", *ma, gauge->awg,
                             in_bundle, carries_a));
        if (!ma && !wire.ends_at(End::ground)) no_load.add(wire);
        if (!gauge) no_gauge.add(wire);
    }
    no_load.tell(sheet.not_judged);
    no_gauge.tell(sheet.not_judged);
}

void judge_pin_loads(WiringSheet& sheet) {
    const Loads& loads = sheet.loads;
    struct Sum {
        double ma{0};
        std::string name;
        std::string where;
        void add(double more_ma, const std::string& of, const std::string& at) {
            ma += more_ma;
            name = of;
            where = at;
        }
    };
    std::map<std::string, Sum> pins;
    std::map<std::string, Sum> ports;
    Sum package;
    PassedOver no_load("load of a pin not known (current_ma)");
    for (const Wire& wire : sheet.wiring.wires) {
        const WireEnd* const pin = wire.end(End::pin);
        if (pin == nullptr || wire.ends_at(End::tap)) continue;
        const std::optional<double> ma = load_ma(wire);
        if (!ma) {
            no_load.add(wire);
            continue;
        }
        pins[plain_name(pin->name)].add(*ma, pin->name, wire.where);
        package.add(*ma, "", wire.where);
        if (const std::string port = port_of(pin->name); !port.empty())
            ports[port].add(*ma, port, wire.where);
    }
    if (package.where.empty()) return no_load.tell(sheet.not_judged);
    for (const auto& [key, sum] : pins)
        judge_sum("pin " + sum.name, sum.ma, loads.pin_limit_ma, Kind::pin_overloaded, sum.where,
                  sheet.findings);
    for (const auto& [key, sum] : ports)
        judge_sum("port " + sum.name, sum.ma, loads.port_limit_ma, Kind::port_overloaded, sum.where,
                  sheet.findings);
    judge_sum("the board's controller", package.ma, loads.package_limit_ma, Kind::package_overloaded,
              package.where, sheet.findings);
    no_load.tell(sheet.not_judged);
    if (!loads.pin_limit_ma)
        sheet.not_judged.push_back("pins: what one may carry is not known ([board] pin_ma)");
    if (!loads.port_limit_ma && !ports.empty())
        sheet.not_judged.push_back("ports: what one may carry is not known ([board] port_ma)");
    if (!loads.package_limit_ma)
        sheet.not_judged.push_back(
            "controller: what all its pins may carry is not known ([board] package_ma)");
}

} // namespace winkhold::bike
