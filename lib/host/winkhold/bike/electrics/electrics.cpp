#include "winkhold/bike/electrics/electrics.hpp"

#include "winkhold/base/joined.hpp"
#include "winkhold/base/vehicle/decoder_section.hpp"
#include "winkhold/bike/electrics/detail/judge_board.hpp"
#include "winkhold/bike/electrics/detail/plausible.hpp"
#include "winkhold/bike/electrics/detail/supply_sections.hpp"
#include "winkhold/bike/lamps/contradictions.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <limits>

namespace winkhold::bike {
namespace {

/// Bleeder and divider of one tap, at most.
double tap_ohm(const std::optional<FrontEnd>& front_end) {
    double siemens = 0;
    if (front_end && front_end->bleeder_ohm) siemens += 1 / *front_end->bleeder_ohm;
    if (front_end && front_end->top_kohm && front_end->bottom_kohm)
        siemens += 1e-3 / (*front_end->top_kohm + *front_end->bottom_kohm);
    if (front_end) siemens /= 1 + front_end->resistor_percent / 100;
    return siemens > 0 ? 1 / siemens : std::numeric_limits<double>::infinity();
}

GroupLoad load_of(const Lamps& lamps, std::size_t i, const std::optional<Board>& board, Checks& checks) {
    const LampGroup& group = lamps[i];
    const auto unknown = [&](const char* missing) {
        checks.push_back(not_judged(group.name, "strings", missing));
        GroupLoad load;
        load.name = group.name;
        load.where = group.where;
        load.job = group.plays.job;
        load.side = group.plays.side;
        return load;
    };
    if (!group.driver) return unknown("driver in its [[lamps]] table");
    if (!board) return unknown("[board]: what feeds it");
    const auto supply = board->feeds(*group.driver);
    if (!supply)
        return unknown(*group.driver == LampDriver::shift_register && !board->register_kind
                           ? "register in [board]: \"logic\" or \"power\""
                           : "regulator_v in [board]");
    const std::size_t first = checks.size();
    GroupLoad load = strings_of(group, *supply, checks);
    if (group.pins.empty()) checks.push_back(not_judged(group.name, "currents of its pins", "pins"));
    const std::size_t wire = checks.size();
    if (load.known()) judge_wire(group, load, checks);
    const std::string table = fmt::format("lamps.{}", i);
    rest_on(fields_in(table, {"awg", "length_m"}), checks, wire);
    rest_on(fields_of_strings(lamps, i, board->from_regulator(*group.driver)), checks, first);
    if (group.feed == LampFeed::constant_current)
        rest_on(fields_in("board", {"headroom_v", "current_part_w"}), checks, first);
    return load;
}

std::vector<LineTotal> totals_of(const std::vector<GroupLoad>& groups) {
    using core::Job;
    const auto lights = [](const GroupLoad& load, std::size_t line) {
        if (load.job != Job::turn) return line == 1 + static_cast<std::size_t>(load.job);
        return line < 2 && core::shows(load.side, line == 0 ? core::Side::left : core::Side::right);
    };
    constexpr std::string_view names[] = {"left turn", "right turn", "stop", "tail", "marker"};
    std::vector<LineTotal> lines;
    for (std::size_t line = 0; line < std::size(names); ++line) {
        LineTotal total;
        total.line = names[line];
        bool any = false;
        for (const GroupLoad& load : groups) {
            if (!lights(load, line)) continue;
            any = true;
            total.nominal_ma += load.nominal_ma;
            total.most_ma += load.most_ma;
            total.all_known = total.all_known && load.known();
        }
        if (any) lines.push_back(total);
    }
    return lines;
}

void judge_board(const Board& board, const Lamps& lamps, Electrics& electrics) {
    judge_drivers(board, lamps, electrics.pins, electrics.checks);
    judge_board_supply(board, lamps, electrics.groups, electrics.checks);
}

/// What rests on something that the owner has not said, or that can't be, is not judged.
void forget_unknown(const Vehicle& vehicle, const std::set<std::string>& contradicted, Checks& checks) {
    for (Check& check : checks) {
        if (check.verdict == CheckVerdict::not_judged || check.rests_on.empty()) continue;
        std::string why = why_not_known(vehicle, check.rests_on);
        FieldNames odd;
        for (const std::string& field : check.rests_on)
            if (contradicted.contains(field) &&
                std::find(odd.begin(), odd.end(), field_text(field)) == odd.end())
                odd.push_back(field_text(field));
        if (!odd.empty())
            why += fmt::format("{}{} contradicts colour", why.empty() ? "" : "; ", joined(odd, ", "));
        if (why.empty()) continue;
        Check forgotten = not_judged(check.part, check.what, why);
        forgotten.rests_on = check.rests_on;
        check = std::move(forgotten);
    }
}

} // namespace

bool Electrics::has_findings() const {
    return std::any_of(checks.begin(), checks.end(),
                       [](const Check& check) { return check.verdict == CheckVerdict::finding; });
}

Electrics judge_electrics(const Vehicle& vehicle) {
    Electrics electrics;
    electrics.vehicle = vehicle.name();
    electrics.still_example = still_example(vehicle);
    const core::Settings decoder = decoder_settings(vehicle, core::Settings{});
    const std::optional<FrontEnd> front_end = front_end_of(vehicle);
    const SupplySections supply = supply_sections_of(vehicle);
    const Lamps lamps = lamps_of(vehicle);
    electrics.warnings = lamp_warnings(lamps);
    Checks& checks = electrics.checks;
    if (front_end) {
        electrics.front_end = figures_of(*front_end);
        judge_front_end(*front_end, decoder.handover_us, decoder.settle_us, checks);
    } else
        checks.push_back(not_judged("front end", "everything", "[front_end]"));
    for (std::size_t i = 0; i < lamps.size(); ++i)
        electrics.groups.push_back(load_of(lamps, i, supply.board, checks));
    electrics.pins = pins_of(lamps, electrics.groups);
    electrics.lines = totals_of(electrics.groups);
    if (lamps.empty()) checks.push_back(not_judged("lamps", "everything", "[[lamps]]"));
    if (supply.board)
        judge_board(*supply.board, lamps, electrics);
    else
        checks.push_back(not_judged("board", "everything", "[board]"));
    electrics.standby_days = standby_days(supply.battery.value_or(Battery{}), supply.board.value_or(Board{}));
    judge_battery(supply.battery.value_or(Battery{}), supply.board.value_or(Board{}), checks);
    judge_flasher_load(supply.flasher_load.value_or(FlasherLoad{}), tap_ohm(front_end), checks);
    Checks odd;
    const std::set<std::string> contradicted = judge_plausible(vehicle, lamps, odd);
    forget_unknown(vehicle, contradicted, checks);
    checks.insert(checks.end(), odd.begin(), odd.end());
    return electrics;
}

} // namespace winkhold::bike
