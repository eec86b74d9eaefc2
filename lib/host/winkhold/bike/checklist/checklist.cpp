#include "winkhold/bike/checklist/checklist.hpp"

#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/error.hpp"
#include "winkhold/base/joined.hpp"
#include "winkhold/base/vehicle/decoder_section.hpp"
#include "winkhold/bike/checklist/detail/points.hpp"
#include "winkhold/bike/electrics/detail/supply_sections.hpp"
#include "winkhold/bike/electrics/electrics.hpp"
#include "winkhold/bike/limits/limit_book.hpp"
#include "winkhold/bike/wiring/detail/known_loads.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

[[noreturn]] void refuse(const Measurement& one, const std::string& why) {
    throw InputError(fmt::format("{}: [measured] {}: {}", one.where, one.what, why));
}

Standing judge(const CheckPoint& point, const Measurement& measured) {
    if (measured.done) return *measured.done ? Standing::passed : Standing::failed;
    if (!point.least && !point.most) return Standing::not_judged;
    const bool is_within =
        (!point.least || *measured.value >= *point.least) && (!point.most || *measured.value <= *point.most);
    return is_within ? Standing::passed : Standing::failed;
}

/// Whether the entry is one for this point; takes its limits if the point has none.
void match(CheckPoint& point, const Measurement& one) {
    if (point.is_yes_or_no() && !one.done)
        refuse(one, "is a point of yes or no; write done = true or done = false");
    if (!point.is_yes_or_no() && one.done)
        refuse(one, fmt::format("is measured; write value = a number, in {}", point.unit));
    if (!one.unit.empty() && one.unit != point.unit)
        refuse(one, fmt::format("unit = \"{}\": the value must be in {}", one.unit, point.unit));
    if (!one.least && !one.most) return;
    if (point.is_yes_or_no() || point.least || point.most)
        refuse(one, "least and most: this point has its own limit; leave them out");
    point.least = one.least;
    point.most = one.most;
    point.source = "given beside the measurement";
}

std::vector<PointRecord> judged_points(std::vector<CheckPoint> points, const Vehicle& vehicle) {
    const std::vector<Measurement> measured = measurements_of(vehicle);
    std::vector<PointRecord> records;
    for (CheckPoint& point : points)
        records.push_back({std::move(point), {}, Standing::open});
    for (std::size_t i = 0; i < measured.size(); ++i) {
        const Measurement& one = measured[i];
        const bool is_example = vehicle.origin(fmt::format("measured.{}", i)) == Vehicle::Origin::example;
        auto record = std::find_if(records.begin(), records.end(),
                                   [&](const PointRecord& at) { return at.point.id == one.what; });
        if (record == records.end()) {
            if (!one.value || (!one.least && !one.most))
                refuse(one,
                       "no point of the checklist is named so: winkhold checklist lists them all; one of "
                       "your own needs value, and least or most");
            records.push_back({{one.what, Stage::own, "Measured by your own choice.", one.unit, one.least,
                                one.most, "given beside the measurement"},
                               {},
                               Standing::open});
            record = records.end() - 1;
        } else
            match(record->point, one);
        record->measured = one;
        record->standing = is_example ? Standing::not_judged : judge(record->point, one);
    }
    return records;
}

std::vector<std::string> cautions_of(const Wiring& wiring) {
    std::vector<std::string> cautions{
        "Turn signals and brake lights are safety equipment: a function that fails takes the bike off the "
        "road until it is mended.",
        "Local law decides which lamps, colours, places and rates are allowed. A licensed inspector judges "
        "that, this paper doesn't.",
        "Never tune while riding. Change settings on the bench and work through the checklist again.",
        "A fuse that blew has a reason: find it before another one of the same size goes in.",
        "This paper holds for the files and the version named here; a change to either makes it old."};
    for (const Wire& wire : wiring.wires)
        if (wire.cuts && wire.end(WireEnd::Kind::tap) != nullptr)
            cautions.push_back(
                fmt::format("The factory's {} line is cut: tell whoever works on the bike next.",
                            wire.end(WireEnd::Kind::tap)->name));
    return cautions;
}

/// The one limit of stop lamps, which `winkhold limits` holds them to.
std::optional<double> stop_lamp_ms() {
    const LimitBook book = LimitBook::carried_along();
    const Limit* const limit = book.find("any-place.stop-lamp-delay");
    if (limit == nullptr || !limit->most) return {};
    return ms(*limit->most * scale(limit->unit));
}

} // namespace

std::size_t Checklist::count(Standing standing) const {
    return static_cast<std::size_t>(
        std::count_if(points.begin(), points.end(),
                      [&](const PointRecord& record) { return record.standing == standing; }));
}

Checklist checklist_of(const Vehicle& vehicle, const std::string& program) {
    const SupplySections supply = supply_sections_of(vehicle);
    const Electrics electrics = judge_electrics(vehicle);
    const Wiring wiring = wiring_of(vehicle);
    const Loads loads = known_loads(electrics, supply, front_end_of(vehicle));
    Checklist checklist;
    checklist.vehicle = vehicle.name();
    checklist.program = program;
    checklist.files = vehicle.files();
    checklist.still_example = still_example(vehicle);
    checklist.decoder = decoder_settings(vehicle, core::Settings{});
    checklist.lamps = lamps_of(vehicle);
    if (!wiring.wires.empty()) checklist.wiring_findings = wiring_sheet_of(vehicle).findings.size();
    const auto is_own = [&](std::string_view section) {
        const std::vector<std::string>& examples = checklist.still_example.sections;
        return std::find(examples.begin(), examples.end(), section) == examples.end();
    };
    // limits that rest on parts of the example would judge another bike
    Loads own_loads = loads;
    if (!is_own("lamps") || !is_own("board")) own_loads.feed_ma.reset();
    const BikeFacts bike{wiring,
                         checklist.lamps,
                         own_loads,
                         checklist.decoder,
                         is_own("front_end") ? electrics.front_end : std::nullopt,
                         supply.board && is_own("board") ? supply.board->sleep_ma : std::nullopt,
                         stop_lamp_ms()};
    checklist.points = judged_points(check_points(bike), vehicle);
    checklist.restore = restore_steps(wiring, checklist.lamps);
    checklist.cautions = cautions_of(wiring);
    return checklist;
}

} // namespace winkhold::bike
