#include "winkhold/bike/electrics/detail/judge_board.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

constexpr const char* part = "board";
constexpr double most_supply_v = 16;

/// Heat in the regulator at 16 V; none if not known.
std::optional<double> regulator_heat_w(const Board& b, double load_ma) {
    if (!b.regulator || !b.regulator_v) return {};
    const double load_a = load_ma / 1e3;
    if (*b.regulator == Regulator::linear)
        return std::max(0.0, most_supply_v - b.reverse_drop_v() - *b.regulator_v) * load_a;
    if (!b.efficiency_percent) return {};
    return *b.regulator_v * load_a * (100 / *b.efficiency_percent - 1);
}

void judge_heat(const Board& b, double lamps_ma, Checks& checks) {
    const char* const what = "regulator's junction at 16 V";
    const auto heat_w = b.board_ma ? regulator_heat_w(b, *b.board_ma + lamps_ma) : std::nullopt;
    if (!heat_w || !b.thermal_c_per_w || !b.ambient_c) {
        checks.push_back(not_judged(part, what,
                                    "board_ma, regulator, regulator_v (switching: efficiency_percent), "
                                    "thermal_c_per_w and ambient_c in [board]" +
                                        (heat_w ? fmt::format("; it makes {:.2f} W", *heat_w) : "")));
        return;
    }
    checks.push_back(judged(part, fmt::format("{} ({:.2f} W)", what, *heat_w),
                            *b.ambient_c + *heat_w * *b.thermal_c_per_w, Bound::at_most, b.junction_c, "C",
                            "junction_c in the file, 125 C otherwise (common practice, no source)",
                            "a heat sink, a switching regulator, or fewer lamps fed from it"));
}

void judge_reverse(const Board& b, Checks& checks) {
    const char* const what = "reverse polarity does no harm";
    if (!b.reverse) {
        checks.push_back(not_judged(part, what, "reverse in [board]"));
        return;
    }
    checks.push_back(judged(part, what, *b.reverse != ReversePart::none, "derived",
                            "a series diode or P-channel MOSFET behind the fuse"));
    if (*b.reverse == ReversePart::none) return;
    if (b.reverse_v)
        checks.push_back(judged(part, "reverse polarity part blocks", *b.reverse_v, Bound::at_least, 150, "V",
                                "pulse 1, -150 V, VND5E160J data sheet (read)",
                                "a part for more volts, or a suppressor ahead of it"));
    else
        checks.push_back(not_judged(part, "reverse polarity part blocks", "reverse_v in [board]"));
}

void judge_load_dump(const Board& b, Checks& checks) {
    const char* const what = "regulator's input in a load dump";
    if (!b.regulator_most_v) {
        checks.push_back(not_judged(part, what, "regulator_most_v in [board], what its input stands"));
        return;
    }
    checks.push_back(judged(part, what, std::min(b.tvs_v.value_or(101), 101.0), Bound::at_most,
                            *b.regulator_most_v, "V", "101 V unclamped, VND5E160J data sheet (read)",
                            "a suppressor (tvs_v) that clamps below what the regulator stands"));
}

void judge_crank(const Board& b, double load_ma, Checks& checks) {
    constexpr double plateau_v = 6;
    constexpr double dip_v = 5;
    constexpr double dip_ms = 40;
    if (!b.regulator_v || !b.dropout_v || !b.least_v || !b.board_ma || !b.reverse) {
        checks.push_back(not_judged(part, "supply in a crank dip",
                                    "board_ma, regulator_v, dropout_v, least_v and reverse in [board]"));
        return;
    }
    const auto out_v = [&](double in_v) {
        return std::min(*b.regulator_v, in_v - b.reverse_drop_v() - *b.dropout_v);
    };
    checks.push_back(judged(part, "board's supply on the crank plateau of 6 V", out_v(plateau_v),
                            Bound::at_least, *b.least_v, "V",
                            "plateau of pulse 4 in test-equipment manuals (quoted)",
                            "a regulator with less dropout, a MOSFET for the diode, or a lower brown-out"));
    if (out_v(dip_v) >= *b.least_v) return;
    const double room_v = 9 - b.reverse_drop_v() - *b.least_v - *b.dropout_v;
    const double holds_ms =
        *b.reverse == ReversePart::none || load_ma <= 0 ? 0 : b.bulk_uf * std::max(0.0, room_v) / load_ma;
    checks.push_back(judged(part, "bulk capacitor carries the board, from 9 V, through a dip to 5 V for",
                            holds_ms, Bound::at_least, dip_ms, "ms",
                            "15-40 ms of pulse 4 in test-equipment manuals (quoted)",
                            "a larger bulk_uf; a reset in mid-crank is short but dark"));
}

} // namespace

void judge_board_supply(const Board& board, double from_regulator_ma, double total_ma, Checks& checks) {
    judge_heat(board, from_regulator_ma, checks);
    judge_reverse(board, checks);
    judge_load_dump(board, checks);
    judge_crank(board, board.board_ma.value_or(0) + from_regulator_ma, checks);
    if (!board.awg || !board.length_m)
        checks.push_back(not_judged(part, "supply wire and fuse", "awg and length_m in [board]"));
    else {
        LampGroup feed;
        feed.name = part;
        feed.awg = board.awg;
        feed.length_m = board.length_m;
        GroupLoad load;
        load.most_ma = total_ma + board.board_ma.value_or(0);
        load.wire = wire_run(*board.awg, *board.length_m, load.most_ma / 1e3);
        judge_wire(feed, load, checks);
    }
}

void judge_wire(const LampGroup& group, const GroupLoad& load, Checks& checks) {
    if (!group.awg || !group.length_m) {
        checks.push_back(not_judged(group.name, "wire and fuse", "awg and length_m"));
        return;
    }
    if (!load.wire) {
        checks.push_back(
            not_judged(group.name, "wire and fuse",
                       fmt::format("a gauge of the table (AWG 24, 22, 20, 18, 16); {} is none", *group.awg)));
        return;
    }
    const WireRun& wire = *load.wire;
    const char* const table = "widely reprinted AWG table (quoted)";
    checks.push_back(judged(group.name, fmt::format("current of its AWG {} wire", wire.gauge.awg),
                            wire.load_a, Bound::at_most, wire.gauge.ampacity_a, "A", table,
                            "a thicker wire"));
    checks.push_back(judged(group.name, "drop of its wire, there and back", wire.drop_v, Bound::at_most, 0.5,
                            "V", fmt::format("0.5 V: common practice, no source; {}", table),
                            "a thicker or shorter wire"));
    if (wire.fuse_a)
        checks.push_back(
            judged(group.name, fmt::format("a {:g} A fuse carries the load and saves the wire", *wire.fuse_a),
                   true, "load / 0.75 <= fuse <= ampacity (quoted)", ""));
    else
        checks.push_back(judged(group.name, "a fuse carries the load and saves the wire", false,
                                "load / 0.75 <= fuse <= ampacity (quoted)", "a thicker wire"));
}

std::optional<double> standby_days(const Battery& battery, const Board& board) {
    if (!battery.capacity_ah || !board.sleep_ma || *board.sleep_ma <= 0) return {};
    return 0.8 * *battery.capacity_ah * 1e3 / *board.sleep_ma / 24;
}

void judge_battery(const Battery& battery, const Board& board, Checks& checks) {
    const char* const what = "days parked until 80 % of the battery is used";
    const auto days = standby_days(battery, board);
    if (!days)
        checks.push_back(
            not_judged("battery", what, "capacity_ah in [battery] and sleep_ma (above 0) in [board]"));
    else if (!battery.parked_days)
        checks.push_back(not_judged(
            "battery", what, fmt::format("parked_days, how long it should stand; it is {:.1f} days", *days)));
    else
        checks.push_back(judged("battery", what, *days, Bound::at_least, *battery.parked_days, "days",
                                "parked_days in the file",
                                "let the board sleep deeper, or a switched supply"));
}

void judge_flasher_load(const FlasherLoad& load, double tap_ohm, Checks& checks) {
    constexpr double test_v = 13.5;
    const std::string what = "load left for the flasher, one side, at 13.5 V";
    if (!load.least_w || !load.kept_w) {
        checks.push_back(not_judged("flasher", what, "least_w and kept_w in [flasher_load]"));
        return;
    }
    const double left_w = *load.kept_w + test_v * test_v / tap_ohm;
    const double lacks_w = *load.least_w - left_w;
    const std::string share =
        *load.least_w > 0 ? fmt::format(" ({:.0f} % of what it needs)", 100 * left_w / *load.least_w) : "";
    checks.push_back(judged("flasher", what + share, left_w, Bound::at_least, *load.least_w, "W",
                            "least_w in the file; 13.5 V: test voltage of UN R148 (read)",
                            lacks_w > 0
                                ? fmt::format("a flasher made for LEDs, or a load resistor of {:.0f} ohm on "
                                              "each side ({:.0f} W of heat while lit)",
                                              test_v * test_v / lacks_w, lacks_w)
                                : ""));
}

} // namespace winkhold::bike
