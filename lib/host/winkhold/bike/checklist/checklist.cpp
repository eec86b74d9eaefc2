#include "winkhold/bike/checklist/checklist.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/joined.hpp"
#include "winkhold/base/vehicle/decoder_section.hpp"
#include "winkhold/bike/checklist/detail/points.hpp"
#include "winkhold/bike/checklist/detail/rooms.hpp"
#include "winkhold/bike/checklist/report.hpp"
#include "winkhold/bike/electrics/electrics.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

[[noreturn]] void refuse(const Measurement& one, const std::string& why) {
    throw InputError(fmt::format("{}: [measured] {}: {}", one.where, one.what, why));
}

/// A limit has two ends, lest a meter that is not connected pass; and a value that nobody can measure again,
/// because nobody says with what and when, is none. What stands in the example is nobody's.
void judge(PointRecord& record, bool is_example) {
    const CheckPoint& point = record.point;
    const Measurement& one = *record.measured;
    const bool is_beyond =
        one.value && ((point.least && *one.value < *point.least) || (point.most && *one.value > *point.most));
    const auto stands = [&](Standing standing, const std::string& why) {
        record.standing = standing;
        record.why = why;
    };
    if (is_example) return stands(Standing::not_judged, "the entry is still the example's");
    if (is_beyond || !one.done.value_or(true)) return stands(Standing::failed, "");
    if (one.value && !point.least && !point.most)
        return stands(Standing::not_judged, fmt::format("its limit is not known: {}", point.source));
    if (one.value && (!point.least || !point.most))
        return stands(Standing::not_judged, point.least ? "say the most, too" : "say the least, too");
    std::vector<std::string> unsaid;
    if (one.with.empty()) unsaid.push_back("with what (with)");
    if (one.on.empty()) unsaid.push_back("when (on)");
    if (point.needs_note && one.note.empty()) unsaid.push_back("what came of it (note)");
    if (!unsaid.empty()) return stands(Standing::open, fmt::format("say {}", joined(unsaid, " and ")));
    // ISO 8601 days sort as text
    if (!one.written.empty() && one.on > one.written)
        return stands(Standing::open,
                      fmt::format("its day is after {}, when the file was last written: mend the day, or the "
                                  "computer's clock and save the file again",
                                  one.written));
    stands(Standing::passed, "");
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
    for (CheckPoint& point : points) {
        const char* const why = point.is_yes_or_no() ? "nobody has done it" : "nobody has measured it";
        records.push_back({std::move(point), {}, Standing::open, why});
    }
    for (std::size_t i = 0; i < measured.size(); ++i) {
        const Measurement& one = measured[i];
        auto record = std::find_if(records.begin(), records.end(),
                                   [&](const PointRecord& at) { return at.point.id == one.what; });
        if (record == records.end()) {
            records.push_back({{one.what, Stage::own, "Measured by your own choice.", one.unit, one.least,
                                one.most, "given beside the measurement"},
                               {},
                               Standing::open,
                               {}});
            record = records.end() - 1;
            // the bike may have changed since: what was measured stays in the record, and passes nothing
            if (!one.value || !one.has_limits()) {
                record->measured = one;
                record->standing = Standing::not_judged;
                record->why = fmt::format(
                    "no point is named so ({}); one of your own needs value, least and most", one.where);
                continue;
            }
        } else
            match(record->point, one);
        record->measured = one;
        judge(*record, vehicle.origin(fmt::format("measured.{}", i)) == Vehicle::Origin::example);
    }
    return records;
}

void take_points(const std::vector<PointRecord>& points, Readiness& readiness) {
    for (const PointRecord& record : points) {
        const std::string& id = record.point.id;
        switch (record.standing) {
        case Standing::passed:
            break;
        case Standing::failed:
            readiness.against.push_back(
                {Judge::points, record.point.is_yes_or_no()
                                    ? fmt::format("{}: not done.", id)
                                    : fmt::format("{}: measured {}, the limit is {}.", id,
                                                  measured_text(record), limit_text(record.point))});
            break;
        case Standing::open:
            readiness.missing.push_back({Judge::points, fmt::format("{}: {}.", id, record.why)});
            break;
        case Standing::not_judged:
            readiness.missing.push_back({Judge::points, fmt::format("{}, not judged: {}.", id, record.why)});
            break;
        }
    }
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

} // namespace

std::size_t Checklist::count(Standing standing) const {
    return static_cast<std::size_t>(
        std::count_if(points.begin(), points.end(),
                      [&](const PointRecord& record) { return record.standing == standing; }));
}

Checklist checklist_of(const Vehicle& vehicle, const std::string& program) {
    const Electrics electrics = judge_electrics(vehicle);
    const Wiring wiring = wiring_of(vehicle);
    std::optional<WiringSheet> sheet;
    if (!wiring.wires.empty()) sheet = wiring_sheet_of(vehicle);
    const std::optional<Profile> profile = profile_of(vehicle);
    Checklist checklist;
    checklist.vehicle = vehicle.name();
    checklist.program = program;
    checklist.files = vehicle.files();
    checklist.still_example = still_example(vehicle);
    checklist.decoder = decoder_settings(vehicle, core::Settings{});
    checklist.lamps = lamps_of(vehicle);
    BikeFacts bike = bike_facts_of(vehicle, wiring, electrics, profile);
    if (sheet) bike.warnings = sheet->warnings;
    checklist.points = judged_points(check_points(bike), vehicle);
    checklist.restore = restore_steps(wiring, checklist.lamps);
    checklist.cautions = cautions_of(wiring);
    Readiness& readiness = checklist.readiness;
    readiness.crc32 = judged_crc32(checklist.files, program);
    take_points(checklist.points, readiness);
    take_electrics(electrics, vehicle.kind(), readiness);
    take_rides(vehicle, profile, readiness);
    take_wiring(sheet, readiness);
    take_facts(vehicle, bike, readiness);
    take_examples(vehicle, readiness);
    return checklist;
}

} // namespace winkhold::bike
