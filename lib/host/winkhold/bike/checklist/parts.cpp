#include "winkhold/bike/checklist/parts.hpp"

#include "winkhold/bike/checklist/detail/points.hpp"
#include "winkhold/measure/front_end/front_end.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <set>

namespace winkhold::bike {
namespace {

std::string ohm_text(double ohm) {
    return ohm < 1000 ? fmt::format("{:g} ohm", ohm) : fmt::format("{:g} kohm", ohm / 1e3);
}

class List {
public:
    /// Alike parts are counted together.
    void pieces(const std::string& part, const std::string& value, int count, const std::string& use) {
        for (PartRow& row : parts_.rows)
            if (row.part == part && row.value == value) {
                row.count += count;
                if (row.use.find(use) == row.use.npos) row.use += ", " + use;
                return;
            }
        parts_.rows.push_back({part, value, static_cast<double>(count), "", 0, use});
    }
    void metres(const std::string& value, double length_m, const std::string& use) {
        for (PartRow& row : parts_.rows)
            if (row.part == "wire" && row.value == value) {
                row.count += length_m;
                return;
            }
        parts_.rows.push_back({"wire", value, length_m, "m", 0, use});
    }
    void missing(const std::string& text) { parts_.missing.push_back(text); }

    PartsList take(const std::string& vehicle) {
        parts_.vehicle = vehicle;
        for (PartRow& row : parts_.rows) {
            row.spare = row.part == "fuse" ? 2 : std::max(1.0, std::ceil(row.count / 10));
            if (row.unit != "m") continue;
            row.spare = std::ceil(row.count) / 10;
            row.count = std::round(row.count * 100) / 100;
        }
        return std::move(parts_);
    }

private:
    PartsList parts_;
};

void add_lamps(const LampPlan& plan, const Electrics& electrics, List& list) {
    for (std::size_t i = 0; i < electrics.groups.size() && i < plan.lamps.size(); ++i) {
        const GroupLoad& group = electrics.groups[i];
        const LampGroup& lamps = plan.lamps[i];
        constexpr std::string_view colours[] = {"amber", "red", "white"};
        if (lamps.colour && lamps.led_ma)
            list.pieces("LED",
                        fmt::format("{}, {:g} mA{}", colours[static_cast<std::size_t>(*lamps.colour)],
                                    *lamps.led_ma, lamps.led_v ? fmt::format(", {:g} V", *lamps.led_v) : ""),
                        lamps.plays.count, group.name);
        else
            list.missing(fmt::format("LEDs of {}: enter colour and led_ma.", group.name));
        if (!group.known())
            list.missing(
                fmt::format("Resistors of {}: winkhold electrics says what is not known.", group.name));
        for (const LampString& one : group.strings) {
            if (one.resistor_ohm && one.resistor_rating_w)
                list.pieces("resistor",
                            fmt::format("{}, 5 %, {:g} W or more", ohm_text(*one.resistor_ohm),
                                        *one.resistor_rating_w),
                            one.count, group.name);
            else if (one.resistor_ohm)
                list.missing(fmt::format("Resistor of {}: {:g} ohm has a heat beyond the common ratings.",
                                         group.name, *one.resistor_ohm));
            else
                list.pieces("constant-current part", fmt::format("for {:g} mA", one.nominal_ma), one.count,
                            group.name);
        }
    }
}

void add_drivers(const Electrics& electrics, const SupplySections& supply, List& list) {
    const int outputs = supply.board ? std::max(supply.board->register_outputs, 1) : 8;
    // lamps stay dark until the firmware speaks
    const auto keep_dark = [&](const std::optional<double>& kohm, const std::string& use) {
        if (kohm && *kohm > 0) list.pieces("resistor", ohm_text(*kohm * 1e3) + ", 5 %", 1, use);
    };
    for (const PinLoad& pin : electrics.pins) {
        if (pin.driver == LampDriver::transistor)
            list.pieces("transistor",
                        supply.board && supply.board->transistor_ma
                            ? fmt::format("for {:g} mA or more", *supply.board->transistor_ma)
                            : fmt::format("for {:.0f} mA or more", pin.most_ma),
                        1, pin.pin);
        if (pin.driver == LampDriver::transistor && supply.board)
            keep_dark(supply.board->gate_pulldown_kohm, "pull-down of " + pin.pin);
        if (pin.driver == LampDriver::shift_register && supply.board)
            keep_dark(supply.board->enable_pullup_kohm, "pull-up of " + pin.pin);
        if (pin.driver == LampDriver::shift_register)
            list.pieces("shift register",
                        fmt::format("{} outputs{}", outputs,
                                    supply.board && supply.board->register_pin_ma
                                        ? fmt::format(" of {:g} mA or more", *supply.board->register_pin_ma)
                                        : ""),
                        (pin.strings + outputs - 1) / outputs, pin.pin);
    }
}

void add_front_end(const Vehicle& vehicle, const Wiring& wiring, const Electrics& electrics, List& list) {
    const std::optional<FrontEnd> front_end = front_end_of(vehicle);
    if (!front_end) return list.missing("Parts of the taps: enter [front_end].");
    for (const std::string_view tap : taps_of(wiring)) {
        const std::string use = fmt::format("{} tap", tap);
        const auto resistor = [&](std::optional<double> ohm, const std::string& rating, const char* which) {
            if (ohm)
                list.pieces("resistor",
                            fmt::format("{}, {:g} %{}", ohm_text(*ohm), front_end->resistor_percent, rating),
                            1, use);
            else
                list.missing(fmt::format("The {} of the {}: enter it in [front_end].", which, use));
        };
        const auto ohm = [](const std::optional<double>& kohm) {
            return kohm ? std::optional(*kohm * 1e3) : std::nullopt;
        };
        resistor(ohm(front_end->top_kohm), "", "top resistor");
        resistor(ohm(front_end->bottom_kohm), "", "bottom resistor");
        if (front_end->bleeder_ohm && *front_end->bleeder_ohm > 0)
            resistor(front_end->bleeder_ohm,
                     electrics.front_end
                         ? fmt::format(", {:.2g} W or more", 2 * electrics.front_end->bleeder_w)
                         : "",
                     "bleeder");
        if (front_end->capacitor_nf)
            list.pieces(
                "capacitor",
                fmt::format("{:g} nF, {:g} %", *front_end->capacitor_nf, front_end->capacitor_percent), 1,
                use);
        if (front_end->clamp == ClampKind::schottky)
            list.pieces("clamp", "Schottky diode to the pin's supply", 1, use);
        if (front_end->clamp == ClampKind::zener) list.pieces("clamp", "Zener diode at the pin", 1, use);
    }
}

void add_board(const SupplySections& supply, List& list) {
    if (!supply.board) return list.missing("Parts of the board: enter [board].");
    const Board& board = *supply.board;
    if (board.regulator)
        list.pieces("regulator",
                    fmt::format("{}, {} V out, input stands {} V",
                                *board.regulator == Regulator::linear ? "linear" : "switching",
                                board.regulator_v ? fmt::format("{:g}", *board.regulator_v) : "?",
                                board.regulator_most_v ? fmt::format("{:g}", *board.regulator_most_v) : "?"),
                    1, "board");
    if (board.tvs_v)
        list.pieces("suppressor", fmt::format("holds the input below {:g} V", *board.tvs_v), 1, "board");
    if (board.reverse && *board.reverse != ReversePart::none) {
        constexpr std::string_view names[] = {"none", "diode", "Schottky diode", "p-channel MOSFET"};
        list.pieces("reverse polarity part",
                    fmt::format("{}{}", names[static_cast<std::size_t>(*board.reverse)],
                                board.reverse_v ? fmt::format(", blocks {:g} V", *board.reverse_v) : ""),
                    1, "board");
    }
    if (board.bulk_uf > 0) list.pieces("capacitor", fmt::format("{:g} uF, bulk", board.bulk_uf), 1, "board");
}

void add_wires(const Wiring& wiring, List& list) {
    if (wiring.wires.empty()) return list.missing("Wires, fuses and plugs: enter [[wires]].");
    std::map<std::string, std::set<std::string>> plugs;
    for (const Wire& wire : wiring.wires) {
        if (wire.fuse_a)
            list.pieces("fuse", fmt::format("{:g} A, with holder", *wire.fuse_a), 1, wire_name(wire));
        if (!wire.connector.empty()) plugs[wire.connector].insert(wire.cavity);
        if (!wire.awg || !wire.length_m) {
            list.missing(fmt::format("{}: enter awg and length_m.", wire_name(wire)));
            continue;
        }
        const std::string colour = wire.colour.empty() ? "any colour" : wire.colour;
        list.metres(fmt::format("AWG {}, {}", *wire.awg, colour), *wire.length_m, "harness, without bends");
    }
    for (const auto& [plug, cavities] : plugs)
        list.pieces("plug and socket", fmt::format("{} ways or more, sealed", cavities.size()), 1, plug);
}

} // namespace

PartsList parts_of(const Vehicle& vehicle) {
    const SupplySections supply = supply_sections_of(vehicle);
    const Electrics electrics = judge_electrics(vehicle);
    const Wiring wiring = wiring_of(vehicle);
    List list;
    add_lamps(lamp_plan_of(vehicle), electrics, list);
    add_drivers(electrics, supply, list);
    add_front_end(vehicle, wiring, electrics, list);
    add_board(supply, list);
    add_wires(wiring, list);
    PartsList parts = list.take(vehicle.name());
    parts.still_example = still_example(vehicle);
    return parts;
}

} // namespace winkhold::bike
