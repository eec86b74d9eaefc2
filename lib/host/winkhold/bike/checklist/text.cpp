// The checklist for people and spreadsheets.
#include "winkhold/base/names.hpp"
#include "winkhold/base/settings_text.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/csv_writer.hpp"
#include "winkhold/base/text/detail/sheet.hpp"
#include "winkhold/bike/checklist/report.hpp"

#include <fmt/format.h>
#include <sstream>

namespace winkhold::bike {
namespace {

std::string with_unit(double value, const std::string& unit) {
    return unit.empty() ? fmt::format("{:.6g}", value) : fmt::format("{:.6g} {}", value, unit);
}

/// What a point's limit is, or what it would take.
std::string limit_sentence(const CheckPoint& point) {
    if (point.is_yes_or_no()) return {};
    const std::string limit = limit_text(point);
    if (limit.empty()) return fmt::format(" Limit not known: the file lacks {}.", point.source);
    return fmt::format(" Limit: {} ({}).", limit, point.source);
}

std::string measured_sentence(const PointRecord& record) {
    if (!record.measured) return {};
    const Measurement& one = *record.measured;
    std::string text =
        fmt::format(" {}: {}", record.point.is_yes_or_no() ? "Here" : "Measured", measured_text(record));
    if (!one.with.empty()) text += ", with " + one.with;
    if (!one.on.empty()) text += ", on " + one.on;
    if (!one.by.empty()) text += ", by " + one.by;
    if (record.standing == Standing::failed && !record.point.is_yes_or_no()) text += ": BEYOND THE LIMIT";
    if (record.standing == Standing::not_judged) text += ": not judged, " + record.why;
    if (record.standing == Standing::open) text += ": STILL OPEN, " + record.why;
    if (!one.note.empty()) text += fmt::format(" ({})", one.note);
    return text + ".";
}

std::string summary(const Checklist& checklist) {
    return fmt::format("Checklist of {}. {} points: {} passed, {} failed, {} open, {} not judged. {}",
                       checklist.vehicle, checklist.points.size(), checklist.count(Standing::passed),
                       checklist.count(Standing::failed), checklist.count(Standing::open),
                       checklist.count(Standing::not_judged), no_certificate);
}

/// Points that are open stand below with their boxes.
std::vector<std::string> sentences_of(const std::vector<Reason>& reasons, bool with_points) {
    std::vector<std::string> sentences;
    for (const Reason& reason : reasons)
        if (with_points || reason.judge != Judge::points) sentences.push_back(reason.text);
    return sentences;
}

std::vector<std::string> lamp_cells(const LampGroup& group) {
    constexpr std::string_view jobs[] = {"turn", "stop", "tail", "marker"};
    const core::LampGroup& plays = group.plays;
    std::string pattern;
    if (plays.job == core::Job::turn)
        pattern = plays.all_at_once() ? "all at once"
                                      : fmt::format("{} each {}",
                                                    plays.pattern.fills == core::Pattern::Fills::lamps
                                                        ? fmt::format("{} more", plays.pattern.block)
                                                        : fmt::format("brighter by {}", plays.pattern.block),
                                                    format_duration(plays.pattern.step_us));
    return {group.name,
            std::string(jobs[static_cast<std::size_t>(plays.job)]),
            plays.side == core::Indication::hazard ? "both" : std::string(name(plays.side)),
            std::to_string(plays.count),
            pattern,
            std::to_string(plays.full),
            std::to_string(plays.dimmed)};
}

/// Where turn lamps are, as somebody licensed asks for it. Unit: mm.
Table distances_table(const Lamps& lamps) {
    Table table{
        {"lamps, mm", "across", "to headlamp", "to stop lamp", "low edge", "high edge", "ahead of rear"}, {}};
    const auto cell = [](const std::optional<double>& mm) { return mm ? fmt::format("{:g}", *mm) : "-"; };
    for (const LampGroup& group : lamps)
        if (group.plays.job == core::Job::turn)
            table.rows.push_back({group.name, cell(group.across_mm), cell(group.headlamp_mm),
                                  cell(group.stop_lamp_mm), cell(group.low_edge_mm), cell(group.high_edge_mm),
                                  cell(group.ahead_of_rear_mm)});
    return table;
}

Table versions_table(const Checklist& checklist) {
    Table table{{"what", "version"}, {{"program", checklist.program}}};
    for (const Vehicle::File& file : checklist.files)
        table.rows.push_back({file.path, fmt::format("CRC-32 {:08x}", file.crc32)});
    table.rows.push_back({"all of it", fmt::format("CRC-32 {:08x}", checklist.readiness.crc32)});
    return table;
}

Sheet checklist_sheet(const Checklist& checklist) {
    Sheet sheet;
    sheet.title = verdict_line(checklist.readiness);
    sheet.verdict = under_notice(checklist.still_example, summary(checklist));
    const auto add_reasons = [&](const char* title, std::vector<std::string> sentences) {
        if (!sentences.empty()) sheet.sections.push_back({title, std::move(sentences), {}});
    };
    add_reasons("Not ready, because", sentences_of(checklist.readiness.against, true));
    add_reasons("Open besides the points below", sentences_of(checklist.readiness.missing, false));
    sheet.sections.push_back({"What was judged", {}, versions_table(checklist)});
    sheet.sections.push_back({"By hand", {lines_by_hand.begin(), lines_by_hand.end()}, {}});
    sheet.sections.push_back({"Cautions", checklist.cautions, {}});
    for (const Stage stage : all_stages) {
        SheetSection section{stage_title(stage), {}, {}};
        for (const PointRecord& record : checklist.points)
            if (record.point.stage == stage)
                section.sentences.push_back(
                    fmt::format("{} {}: {}{}{}", mark(record.standing), record.point.id, record.point.task,
                                limit_sentence(record.point), measured_sentence(record)));
        if (!section.sentences.empty()) sheet.sections.push_back(std::move(section));
    }
    SheetSection settings{"Settings of the decoder", {}, {{"setting", "value"}, {}}};
    for (const NamedSetting& setting : named_settings)
        settings.table.rows.push_back(
            {std::string(setting.name), value_text(checklist.decoder, setting.name)});
    sheet.sections.push_back(std::move(settings));
    if (!checklist.lamps.empty()) {
        SheetSection lamps{
            "Lamps", {}, {{"lamps", "job", "side", "count", "pattern", "brightness", "dimmed"}, {}}};
        for (const LampGroup& group : checklist.lamps)
            lamps.table.rows.push_back(lamp_cells(group));
        sheet.sections.push_back(std::move(lamps));
    }
    if (Table distances = distances_table(checklist.lamps); !distances.rows.empty())
        sheet.sections.push_back({"Where the turn lamps are", {}, std::move(distances)});
    sheet.sections.push_back({"Back to the factory's state, in this order", checklist.restore, {}});
    return sheet;
}

} // namespace

std::string stage_title(Stage stage) {
    constexpr std::string_view titles[] = {
        "1. On the bench, before it goes on the bike",
        "2. Wet test: leakage",
        "3. First power on the bike",
        "4. Each function",
        "5. The road, last: on closed ground, before the inspection",
        "Measured besides",
    };
    return std::string(titles[static_cast<std::size_t>(stage)]);
}

std::string mark(Standing standing) {
    constexpr std::string_view marks[] = {"[ ]", "[x]", "[!]", "[?]"};
    return std::string(marks[static_cast<std::size_t>(standing)]);
}

std::string under_notice(const StillExample& still, const std::string& text) {
    return still.notice.empty() ? text : still.notice + " " + text;
}

std::string limit_text(const CheckPoint& point) {
    if (point.least && point.most)
        return fmt::format("{:.6g} to {}", *point.least, with_unit(*point.most, point.unit));
    if (point.least) return "at least " + with_unit(*point.least, point.unit);
    if (point.most) return "at most " + with_unit(*point.most, point.unit);
    return {};
}

std::string measured_text(const PointRecord& record) {
    if (!record.measured) return {};
    if (record.measured->done) return *record.measured->done ? "done" : "NOT DONE";
    return with_unit(*record.measured->value, record.point.unit);
}

std::string checklist_text(const Checklist& checklist) {
    return sheet_text(checklist_sheet(checklist));
}

std::string checklist_markdown(const Checklist& checklist) {
    return sheet_markdown(checklist_sheet(checklist));
}

std::string checklist_csv(const Checklist& checklist) {
    const auto number = [](const std::optional<double>& value) {
        return value ? fmt::format("{:.6g}", *value) : std::string();
    };
    std::ostringstream out;
    CsvWriter csv(out, CsvWriter::Ends::crlf);
    csv.record("row", "id", "stage", "standing", "value", "unit", "least", "most", "source", "with", "on",
               "by", "note", "where", "text");
    const auto add = [&](const char* row, const std::string& id, const std::string& value,
                         const std::string& text) {
        csv.record(row, id, "", "", value, "", "", "", "", "", "", "", "", "", text);
    };
    add("verdict", std::string(name(checklist.readiness.verdict())),
        fmt::format("{:08x}", checklist.readiness.crc32), verdict_line(checklist.readiness));
    add("verdict", "", "", std::string(no_certificate));
    for (const Reason& reason : checklist.readiness.against)
        add("against", std::string(name(reason.judge)), "", reason.text);
    for (const Reason& reason : checklist.readiness.missing)
        add("missing", std::string(name(reason.judge)), "", reason.text);
    for (const PointRecord& record : checklist.points) {
        const CheckPoint& point = record.point;
        const Measurement one = record.measured.value_or(Measurement{});
        csv.record("point", point.id, std::string(name(point.stage)), std::string(name(record.standing)),
                   one.done ? (*one.done ? "true" : "false") : number(one.value), point.unit,
                   number(point.least), number(point.most), point.source, one.with, one.on, one.by, one.note,
                   one.where, point.task);
    }
    for (const NamedSetting& setting : named_settings)
        add("setting", std::string(setting.name), value_text(checklist.decoder, setting.name), "");
    for (const LampGroup& group : checklist.lamps) {
        const auto cells = lamp_cells(group);
        add("lamps", group.name, cells[3],
            fmt::format("{}, {}{}{}", cells[1], cells[2], cells[4].empty() ? "" : ", ", cells[4]));
    }
    add("program", "", checklist.program, "");
    for (const Vehicle::File& file : checklist.files)
        add("file", file.path, fmt::format("{:08x}", file.crc32), "CRC-32");
    for (const std::string& step : checklist.restore)
        add("restore", "", "", step);
    for (const std::string& one : checklist.cautions)
        add("caution", "", "", one);
    add("caution", "", "", caution_line());
    csv.flush();
    return out.str();
}

} // namespace winkhold::bike
