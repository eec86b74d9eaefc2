#include "winkhold/bike/electrics/electrics.hpp"

#include "winkhold/base/vehicle/decoder_section.hpp"
#include "winkhold/bike/electrics/detail/judge_board.hpp"
#include "winkhold/bike/electrics/detail/supply_sections.hpp"

#include <algorithm>
#include <limits>

namespace winkhold::bike {
namespace {

/// Bleeder and divider of one tap.
double tap_ohm(const std::optional<FrontEnd>& front_end) {
    double siemens = 0;
    if (front_end && front_end->bleeder_ohm) siemens += 1 / *front_end->bleeder_ohm;
    if (front_end && front_end->top_kohm && front_end->bottom_kohm)
        siemens += 1e-3 / (*front_end->top_kohm + *front_end->bottom_kohm);
    return siemens > 0 ? 1 / siemens : std::numeric_limits<double>::infinity();
}

GroupLoad load_of(const LampGroup& group, const std::optional<Board>& board, Checks& checks) {
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
    GroupLoad load = strings_of(group, *supply, checks);
    if (group.pins.empty()) checks.push_back(not_judged(group.name, "currents of its pins", "pins"));
    if (load.known()) judge_wire(group, load, checks);
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
    double from_regulator_ma = 0;
    double total_ma = 0;
    for (std::size_t i = 0; i < lamps.size(); ++i) {
        total_ma += electrics.groups[i].most_ma;
        if (lamps[i].driver && board.from_regulator(*lamps[i].driver))
            from_regulator_ma += electrics.groups[i].most_ma;
    }
    judge_board_supply(board, from_regulator_ma, total_ma, electrics.checks);
}

} // namespace

bool Electrics::has_findings() const {
    return std::any_of(checks.begin(), checks.end(),
                       [](const Check& check) { return check.verdict == CheckVerdict::finding; });
}

Electrics judge_electrics(const Vehicle& vehicle) {
    Electrics electrics;
    electrics.vehicle = vehicle.name();
    const core::Settings decoder = decoder_settings(vehicle, core::Settings{});
    const std::optional<FrontEnd> front_end = front_end_of(vehicle);
    const SupplySections supply = supply_sections_of(vehicle);
    const Lamps lamps = lamps_of(vehicle);
    Checks& checks = electrics.checks;
    if (front_end) {
        electrics.front_end = figures_of(*front_end);
        judge_front_end(*front_end, decoder.handover_us, decoder.settle_us, checks);
    } else
        checks.push_back(not_judged("front end", "everything", "[front_end]"));
    for (const LampGroup& group : lamps)
        electrics.groups.push_back(load_of(group, supply.board, checks));
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
    return electrics;
}

} // namespace winkhold::bike
