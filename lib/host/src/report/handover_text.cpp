// The hand-over record for people and spreadsheets.
#include "report/sheet.hpp"
#include "winkhold/host/report/handover_report.hpp"
#include "winkhold/host/report/names.hpp"
#include "winkhold/host/settings_text.hpp"

#include <fmt/format.h>

namespace winkhold::host {
namespace {

std::string with_unit(double value, const std::string& unit) {
    return unit.empty() ? fmt::format("{:.6g}", value) : fmt::format("{:.6g} {}", value, unit);
}

std::string title(Stage stage) {
    constexpr std::string_view titles[] = {
        "1. On the bench, before it goes on the bike",
        "2. Wet test: leakage",
        "3. First power on the bike",
        "4. Each function",
        "5. On the road",
        "Measured besides",
    };
    return std::string(titles[static_cast<std::size_t>(stage)]);
}

std::string mark(Standing standing) {
    constexpr std::string_view marks[] = {"[ ]", "[x]", "[!]", "[?]"};
    return std::string(marks[static_cast<std::size_t>(standing)]);
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
    if (!one.on.empty()) text += ", on " + one.on;
    if (!one.by.empty()) text += ", by " + one.by;
    if (record.standing == Standing::failed && !record.point.is_yes_or_no()) text += ": BEYOND THE LIMIT";
    if (record.standing == Standing::not_judged) text += ": not judged";
    if (!one.note.empty()) text += fmt::format(" ({})", one.note);
    return text + ".";
}

std::string verdict(const Handover& handover) {
    std::string text =
        fmt::format("{} points: {} passed, {} failed, {} open, {} not judged. ", handover.points.size(),
                    handover.count(Standing::passed), handover.count(Standing::failed),
                    handover.count(Standing::open), handover.count(Standing::not_judged));
    if (!handover.wiring_findings)
        text += "No wires are listed. ";
    else if (*handover.wiring_findings > 0)
        text += fmt::format("The wiring has {} finding{}: see winkhold wiring. ", *handover.wiring_findings,
                            *handover.wiring_findings == 1 ? "" : "s");
    if (handover.has_findings()) return text + "Not fit to be handed over.";
    const bool is_complete = handover.count(Standing::passed) == handover.points.size();
    return text + (is_complete ? "All points are passed." : "What is open is not passed.");
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

Sheet handover_sheet(const Handover& handover) {
    Sheet sheet;
    sheet.title = fmt::format("Hand-over record of {}", handover.vehicle);
    sheet.verdict = verdict(handover);
    sheet.sections.push_back({"Cautions", handover.cautions, {}});
    for (const Stage stage : all_stages) {
        SheetSection section{title(stage), {}, {}};
        for (const PointRecord& record : handover.points)
            if (record.point.stage == stage)
                section.sentences.push_back(
                    fmt::format("{} {}: {}{}{}", mark(record.standing), record.point.id, record.point.task,
                                limit_sentence(record.point), measured_sentence(record)));
        if (!section.sentences.empty()) sheet.sections.push_back(std::move(section));
    }
    SheetSection settings{"Settings of the decoder", {}, {{"setting", "value"}, {}}};
    for (const NamedSetting& setting : named_settings)
        settings.table.rows.push_back(
            {std::string(setting.name), value_text(handover.decoder, setting.name)});
    sheet.sections.push_back(std::move(settings));
    if (!handover.lamps.empty()) {
        SheetSection lamps{
            "Lamps", {}, {{"lamps", "job", "side", "count", "pattern", "brightness", "dimmed"}, {}}};
        for (const LampGroup& group : handover.lamps)
            lamps.table.rows.push_back(lamp_cells(group));
        sheet.sections.push_back(std::move(lamps));
    }
    SheetSection versions{"Versions", {}, {{"what", "version"}, {{"program", handover.program}}}};
    for (const FileVersion& file : handover.files)
        versions.table.rows.push_back({file.path, fmt::format("CRC-32 {:08x}", file.crc32)});
    sheet.sections.push_back(std::move(versions));
    sheet.sections.push_back({"Back to the factory's state, in this order", handover.restore, {}});
    return sheet;
}

} // namespace

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

std::string handover_text(const Handover& handover) {
    return sheet_text(handover_sheet(handover));
}

std::string handover_markdown(const Handover& handover) {
    return sheet_markdown(handover_sheet(handover));
}

std::string handover_csv(const Handover& handover) {
    const auto number = [](const std::optional<double>& value) {
        return value ? fmt::format("{:.6g}", *value) : std::string();
    };
    std::string csv = csv_record({"row", "id", "stage", "standing", "value", "unit", "least", "most",
                                  "source", "on", "by", "note", "where", "text"});
    const auto add = [&](const char* row, const std::string& id, const std::string& value,
                         const std::string& text) {
        csv += csv_record({row, id, "", "", value, "", "", "", "", "", "", "", "", text});
    };
    for (const PointRecord& record : handover.points) {
        const CheckPoint& point = record.point;
        const Measurement one = record.measured.value_or(Measurement{});
        csv += csv_record(
            {"point", point.id, std::string(name(point.stage)), std::string(name(record.standing)),
             one.done ? (*one.done ? "true" : "false") : number(one.value), point.unit, number(point.least),
             number(point.most), point.source, one.on, one.by, one.note, one.where, point.task});
    }
    for (const NamedSetting& setting : named_settings)
        add("setting", std::string(setting.name), value_text(handover.decoder, setting.name), "");
    for (const LampGroup& group : handover.lamps) {
        const auto cells = lamp_cells(group);
        add("lamps", group.name, cells[3],
            fmt::format("{}, {}{}{}", cells[1], cells[2], cells[4].empty() ? "" : ", ", cells[4]));
    }
    add("program", "", handover.program, "");
    for (const FileVersion& file : handover.files)
        add("file", file.path, fmt::format("{:08x}", file.crc32), "CRC-32");
    if (handover.wiring_findings) add("wiring", "findings", std::to_string(*handover.wiring_findings), "");
    for (const std::string& step : handover.restore)
        add("restore", "", "", step);
    for (const std::string& one : handover.cautions)
        add("caution", "", "", one);
    add("caution", "", "", caution_line());
    return csv;
}

} // namespace winkhold::host
