// Fuses, gauges and what pins carry.
#include "winkhold/base/joined.hpp"
#include "winkhold/bike/electrics/detail/port.hpp"
#include "winkhold/bike/electrics/wire.hpp"
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

/// The largest fuse between battery and board; 0: no such wire, or one without a fuse.
double feed_fuse_a(const Wiring& wiring) {
    double largest = 0;
    for (const Wire& wire : wiring.wires)
        if (is_live(wire) && wire.ends_at(End::board)) largest = std::max(largest, wire.fuse_a.value_or(0));
    return largest;
}

/// The fuse that saves this wire: its own, or the board's if it carries what the board was fed. 0: none.
double fuse_before_a(const Wire& wire, double feed_a) {
    if (wire.fuse_a) return *wire.fuse_a;
    const bool is_fed = wire.ends_at(End::board) && (wire.ends_at(End::lamps) || wire.ends_at(End::part));
    return is_fed ? feed_a : 0;
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

std::optional<double> load_ma(const Wiring& wiring, const Loads& loads, const Wire& wire) {
    if (wire.current_ma) return wire.current_ma;
    if (is_live(wire) && wire.ends_at(End::board)) return loads.feed_ma;
    const WireEnd* const lamps = wire.end(End::lamps);
    if (lamps == nullptr) return {};
    if (const WireEnd* const pin = wire.end(End::pin))
        if (const auto known = loads.pin_ma.find(plain_name(pin->name)); known != loads.pin_ma.end())
            return known->second;
    // Wires of one group may share its current in any way: only a single one is sure of it.
    const auto reaching = std::count_if(wiring.wires.begin(), wiring.wires.end(), [&](const Wire& one) {
        return !one.ends_at(End::ground) && one.end(End::lamps) != nullptr &&
               same_name(one.end(End::lamps)->name, lamps->name);
    });
    const auto known = loads.group_ma.find(lamps->name);
    if (known == loads.group_ma.end() || (reaching > 1 && !wire.ends_at(End::ground))) return {};
    return known->second;
}

void judge_fuses(WiringSheet& sheet) {
    const auto find = [&](Kind kind, const Wire& wire, const std::string& text) {
        sheet.findings.push_back({kind, wire.where, fmt::format("{} {}", wire_name(wire), text)});
    };
    PassedOver no_load("load not known (current_ma), so fuse and gauge are not judged by it");
    PassedOver no_gauge("gauge not given, or not in the table (AWG 16, 18, 20, 22, 24)");
    const double feed_a = feed_fuse_a(sheet.wiring);
    for (const Wire& wire : sheet.wiring.wires) {
        const std::optional<Gauge> gauge = gauge_of(wire.awg.value_or(0));
        const std::optional<double> ma = load_ma(sheet.wiring, sheet.loads, wire);
        const double fuse_a = fuse_before_a(wire, feed_a);
        if (needs_fuse(wire) && !wire.fuse_a)
            find(Kind::no_fuse, wire,
                 fmt::format("has no fuse, though {} could burn it; put one where it begins",
                             text(wire.ends_at(End::tap)       ? *wire.end(End::tap)
                                  : wire.ends_at(End::battery) ? *wire.end(End::battery)
                                                               : *wire.end(End::switched))));
        if (wire.fuse_a && ma && *ma / 1e3 / fuse_loaded_to > *wire.fuse_a)
            find(Kind::fuse_too_small, wire,
                 fmt::format(
                     "carries {:.4g} mA, so its fuse must be {:.3g} A or more (load / 0.75), not {:g} A", *ma,
                     *ma / 1e3 / fuse_loaded_to, *wire.fuse_a));
        if (gauge && fuse_a > gauge->ampacity_a)
            find(Kind::fuse_too_large, wire,
                 fmt::format("carries {:g} A at AWG {}, but {} fuse is {:g} A: the wire would burn first; "
                             "thicker wire or a smaller fuse",
                             gauge->ampacity_a, gauge->awg, wire.fuse_a ? "its" : "the board's", fuse_a));
        if (gauge && ma && *ma / 1e3 > gauge->ampacity_a)
            find(Kind::wire_overloaded, wire,
                 fmt::format("carries {:.4g} mA, AWG {} only {:g} A; take a thicker one", *ma, gauge->awg,
                             gauge->ampacity_a));
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
        const std::optional<double> ma = load_ma(sheet.wiring, loads, wire);
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
