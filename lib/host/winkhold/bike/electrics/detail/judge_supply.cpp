#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/bike/electrics/detail/judge_board.hpp"
#include "winkhold/bike/electrics/e24.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

constexpr const char* part = "board";
constexpr double most_supply_v = 16;

FieldNames board_fields(std::initializer_list<const char*> keys) {
    return fields_in("board", keys);
}

/// What lamps behind the regulator, or ahead of it, draw at most, and what that rests on.
struct Draw {
    double most_ma{0};
    FieldNames fields{};
};
Draw lamps_of(const Board& b, const Lamps& lamps, const std::vector<GroupLoad>& groups, bool from_regulator) {
    Draw draw;
    for (std::size_t i = 0; i < lamps.size(); ++i) {
        if (!lamps[i].driver || b.from_regulator(*lamps[i].driver) != from_regulator) continue;
        draw.most_ma += groups[i].most_ma;
        draw.fields = draw.fields + fields_of_strings(lamps, i, from_regulator);
    }
    return draw;
}

/// Heat in the regulator at 16 V; none if not known.
std::optional<double> regulator_heat_w(const Board& b, double load_ma) {
    if (!b.regulator || !b.regulator_v) return {};
    const double load_a = load_ma / 1e3;
    if (*b.regulator == Regulator::linear)
        return std::max(0.0, most_supply_v - b.input_drop_v() - *b.regulator_v) * load_a;
    if (!b.efficiency_percent) return {};
    return *b.regulator_v * load_a * (100 / *b.efficiency_percent - 1);
}

void judge_heat(const Board& b, const Draw& lamps, Checks& checks) {
    const char* const what = "regulator's junction at 16 V";
    const auto heat_w = b.board_ma ? regulator_heat_w(b, *b.board_ma + lamps.most_ma) : std::nullopt;
    if (!heat_w || !b.thermal_c_per_w || !b.ambient_c) {
        checks.push_back(not_judged(part, what,
                                    "board_ma, regulator, regulator_v (switching: efficiency_percent), "
                                    "thermal_c_per_w and ambient_c in [board]" +
                                        (heat_w ? fmt::format("; it makes {:.2f} W", *heat_w) : "")));
        return;
    }
    FieldNames fields = lamps.fields + board_fields({"board_ma", "regulator", "regulator_v",
                                                     "thermal_c_per_w", "ambient_c", "junction_c"});
    if (*b.regulator == Regulator::linear)
        fields.push_back("board.reverse");
    else
        fields.push_back("board.efficiency_percent");
    checks.push_back(
        resting_on(fields, judged(part, fmt::format("{} ({:.2f} W)", what, *heat_w),
                                  *b.ambient_c + *heat_w * *b.thermal_c_per_w, Bound::at_most, b.junction_c,
                                  "C", "junction_c in the file; 125 C: common practice, no source",
                                  "a heat sink, a switching regulator, or fewer lamps fed from it")));
}

void judge_reverse(const Board& b, Checks& checks) {
    const char* const what = "reverse polarity does no harm";
    if (!b.reverse) {
        checks.push_back(not_judged(part, what, "reverse in [board]"));
        return;
    }
    checks.push_back(resting_on(fields_in("board", {"reverse"}),
                                judged(part, what, *b.reverse != ReversePart::none, "derived",
                                       "a series diode or P-channel MOSFET behind the fuse")));
    if (*b.reverse == ReversePart::none) return;
    if (!b.reverse_v) {
        checks.push_back(not_judged(part, "reverse polarity part blocks", "reverse_v in [board]"));
        return;
    }
    constexpr double charged_v = 13.5; // the bulk capacitor on its other side
    for (const Transient& transient : published_transients())
        if (transient.line_v < 0)
            checks.push_back(
                resting_on(board_fields({"reverse", "reverse_v"}),
                           judged(part,
                                  fmt::format("reverse polarity part blocks {} of {:g} V", transient.name,
                                              transient.line_v),
                                  *b.reverse_v, Bound::at_least, charged_v - transient.line_v, "V",
                                  fmt::format("{}; 13.5 V in the bulk capacitor (derived)", transient.source),
                                  "a part for more volts, or a suppressor ahead of it")));
}

void judge_load_dump(const Board& b, Checks& checks) {
    const char* const what = "regulator's input in a load dump";
    if (!b.regulator_most_v) {
        checks.push_back(not_judged(part, what, "regulator_most_v in [board], what its input stands"));
        return;
    }
    const Transient& dump = published_transients().back();
    checks.push_back(
        resting_on(board_fields({"regulator_most_v"}) + (b.tvs_v ? board_fields({"tvs_v"}) : FieldNames{}),
                   judged(part, what, std::min(b.tvs_v.value_or(dump.line_v), dump.line_v), Bound::at_most,
                          *b.regulator_most_v, "V", fmt::format("{:g} V, {}", dump.line_v, dump.source),
                          "a suppressor (tvs_v) that clamps below what the regulator stands")));
}

void judge_crank(const Board& b, const Lamps& lamps, const std::vector<GroupLoad>& groups, Checks& checks) {
    constexpr double plateau_v = 6;
    constexpr double dip_v = 5;
    constexpr double dip_ms = 40;
    if (!b.regulator_v || !b.dropout_v || !b.least_v || !b.board_ma || !b.reverse) {
        checks.push_back(not_judged(part, "supply in a crank dip",
                                    "board_ma, regulator_v, dropout_v, least_v and reverse in [board]"));
        return;
    }
    const auto out_v = [&](double in_v) {
        return std::min(*b.regulator_v, in_v - b.input_drop_v() - *b.dropout_v);
    };
    const FieldNames fields = board_fields({"regulator_v", "dropout_v", "least_v", "reverse"});
    checks.push_back(resting_on(
        fields, judged(part, "board's supply on the crank plateau of 6 V", out_v(plateau_v), Bound::at_least,
                       *b.least_v, "V", "plateau of pulse 4 in test-equipment manuals (quoted)",
                       "a regulator with less dropout, a MOSFET for the diode, or a lower brown-out")));
    if (out_v(dip_v) >= *b.least_v) return;
    const char* const what = "bulk capacitor carries board and lamps, from 9 V, through a dip to 5 V for";
    if (b.regulator == Regulator::switching && !b.efficiency_percent) {
        checks.push_back(not_judged(part, what, "efficiency_percent in [board]"));
        return;
    }
    FieldNames hold =
        fields + board_fields({"board_ma", "bulk_uf", "regulator"}) + lamps_of(b, lamps, groups, true).fields;
    if (b.regulator == Regulator::switching) hold.push_back("board.efficiency_percent");
    std::string nominal;
    if (b.bulk_feeds == BulkFeeds::all) {
        hold = hold + lamps_of(b, lamps, groups, false).fields;
        nominal = fmt::format(" (all lit; {} ms with nominal parts)",
                              short_number(hold_up_ms(b, lamps, groups, false)));
    }
    checks.push_back(resting_on(
        hold, judged(part,
                     b.bulk_feeds == BulkFeeds::all ? what + nominal
                                                    : "bulk capacitor carries the board, from 9 V, "
                                                      "through a dip to 5 V for",
                     hold_up_ms(b, lamps, groups, true), Bound::at_least, dip_ms, "ms",
                     "15-40 ms of pulse 4 in test-equipment manuals (quoted)",
                     fmt::format("a larger bulk_uf{}; a reset in mid-crank is short but dark",
                                 b.bulk_feeds == BulkFeeds::all
                                     ? "; a diode that keeps the lamps off it (bulk_feeds = \"board\")"
                                     : ""))));
}

} // namespace

double hold_up_ms(const Board& board, const Lamps& lamps, const std::vector<GroupLoad>& groups, bool worst) {
    if (board.reverse == ReversePart::none) return 0; // the line itself drains it
    const double drop_v = board.input_drop_v();
    const double from_v = 9 - drop_v;
    const double to_v = *board.least_v + *board.dropout_v;
    if (from_v <= to_v) return 0;
    double load_ma = *board.board_ma;
    for (std::size_t i = 0; i < lamps.size(); ++i)
        if (lamps[i].driver && board.from_regulator(*lamps[i].driver))
            load_ma += worst ? groups[i].most_ma : groups[i].nominal_ma;
    const auto ma_at = [&](double volts) {
        double ma = board.input_ma(load_ma, volts);
        for (std::size_t i = 0; i < lamps.size(); ++i) {
            if (board.bulk_feeds == BulkFeeds::board || !lamps[i].driver ||
                board.from_regulator(*lamps[i].driver))
                continue;
            for (const LampString& string : groups[i].strings)
                ma += string.count * string_ma(string, volts + drop_v, worst);
        }
        return ma;
    };
    constexpr int slices = 1'000; // midpoints; a string's knee costs less than a slice
    const double slice_v = (from_v - to_v) / slices;
    double ms = 0;
    for (int i = 0; i < slices; ++i)
        ms += board.bulk_uf * slice_v / ma_at(to_v + (i + 0.5) * slice_v);
    return board.bulk_uf > 0 ? ms : 0;
}

void judge_board_supply(const Board& board, const Lamps& lamps, const std::vector<GroupLoad>& groups,
                        Checks& checks) {
    const Draw behind = lamps_of(board, lamps, groups, true);
    const Draw ahead = lamps_of(board, lamps, groups, false);
    judge_heat(board, behind, checks);
    judge_reverse(board, checks);
    judge_load_dump(board, checks);
    judge_crank(board, lamps, groups, checks);
    if (!board.awg || !board.length_m)
        checks.push_back(not_judged(part, "supply wire and fuse", "awg and length_m in [board]"));
    else if (!board.board_ma || (board.regulator == Regulator::switching && !board.efficiency_percent))
        checks.push_back(
            not_judged(part, "supply wire and fuse", "board_ma (switching: efficiency_percent) in [board]"));
    else {
        constexpr double least_v = 9; // where a switching regulator takes most
        LampGroup feed;
        feed.name = part;
        feed.awg = board.awg;
        feed.length_m = board.length_m;
        GroupLoad load;
        load.most_ma =
            ahead.most_ma + board.input_ma(*board.board_ma + behind.most_ma, least_v - board.input_drop_v());
        load.wire = wire_run(*board.awg, *board.length_m, load.most_ma / 1e3);
        const std::size_t first = checks.size();
        judge_wire(feed, load, checks);
        rest_on(board_fields({"awg", "length_m", "board_ma"}) + ahead.fields + behind.fields, checks, first);
        if (board.regulator == Regulator::switching)
            rest_on(board_fields({"regulator_v", "efficiency_percent"}), checks, first);
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
    if (!battery.capacity_ah || !board.sleep_ma) return {};
    constexpr double hours_a_month = 30 * 24;
    const double itself_ma =
        *battery.capacity_ah * 1e3 * battery.self_discharge_percent_per_month() / 100 / hours_a_month;
    return 0.8 * *battery.capacity_ah * 1e3 / (*board.sleep_ma + itself_ma) / 24;
}

void judge_battery(const Battery& battery, const Board& board, Checks& checks) {
    const std::string what =
        fmt::format("days parked until 80 % of the battery is used, {:g} % a month by itself",
                    battery.self_discharge_percent_per_month());
    const auto days = standby_days(battery, board);
    if (!days)
        checks.push_back(not_judged("battery", what, "capacity_ah in [battery] and sleep_ma in [board]"));
    else if (!battery.parked_days)
        checks.push_back(not_judged(
            "battery", what, fmt::format("parked_days, how long it should stand; it is {:.1f} days", *days)));
    else
        checks.push_back(resting_on(
            fields_in("battery", {"capacity_ah", "parked_days", "chemistry"}) + board_fields({"sleep_ma"}),
            judged("battery", what, *days, Bound::at_least, *battery.parked_days, "days",
                   "parked_days in the file; lead 3-10 %, lithium 2-3 % a month at 25 C (common practice)",
                   "let the board sleep deeper, a switched supply, or a charger that keeps it full")));
}

namespace {

/// The largest E24 value that takes what lacks even 5 % high, and a common rating of twice its heat at 16 V.
std::string load_resistor(double lacks_w, double test_v) {
    constexpr double share = 0.05;
    constexpr double common_w[] = {1, 2, 3, 5, 10, 25, 50, 100, 200}; // common practice, no source
    const double most_ohm = test_v * test_v / lacks_w / (1 + share);
    const double ohm = e24_down(most_ohm);
    const double heat_w = most_supply_v * most_supply_v / (ohm * (1 - share));
    const auto* const rating_w = std::find_if(std::begin(common_w), std::end(common_w),
                                              [&](double watts) { return watts >= 2 * heat_w; });
    if (ohm > most_ohm || rating_w == std::end(common_w)) return {};
    return fmt::format(
        "; or a load resistor of {:g} ohm (E24, 5 %) for {:g} W or more on each side: it makes "
        "{} W at 16 V while lit, and gets hot",
        ohm, *rating_w, short_number(heat_w));
}

} // namespace

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
    checks.push_back(
        resting_on(fields_in("flasher_load", {"least_w", "kept_w"}),
                   judged("flasher", what + share, left_w, Bound::at_least, *load.least_w, "W",
                          "least_w in the file; 13.5 V: test voltage of UN R148 (read)",
                          lacks_w > 0 ? "a flasher made for LEDs" + load_resistor(lacks_w, test_v) : "")));
}

} // namespace winkhold::bike
