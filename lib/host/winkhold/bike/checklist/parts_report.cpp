// The parts list for people, spreadsheets and programs.
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/csv_writer.hpp"
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/text/detail/sheet.hpp"
#include "winkhold/bike/checklist/parts.hpp"
#include "winkhold/bike/checklist/report.hpp"

#include <fmt/format.h>
#include <sstream>

namespace winkhold::bike {
namespace {

Sheet sheet_of(const PartsList& parts) {
    Sheet sheet;
    sheet.title = fmt::format("Parts list of {}", parts.vehicle);
    sheet.verdict =
        under_notice(parts.still_example,
                     parts.missing.empty()
                         ? std::string("All parts that the file tells of.")
                         : fmt::format("NOT COMPLETE: {} could not be worked out.", parts.missing.size()));
    if (!parts.missing.empty()) sheet.sections.push_back({"Missing", parts.missing, {}});
    SheetSection section{
        "Parts", {}, {{"part", "what", {"count", Align::right}, {"spare", Align::right}, "for"}, {}}};
    for (const PartRow& row : parts.rows) {
        const std::string unit = row.unit.empty() ? "" : " " + row.unit;
        section.table.rows.push_back({row.part, row.value, fmt::format("{:g}{}", row.count, unit),
                                      fmt::format("{:g}{}", row.spare, unit), row.use});
    }
    sheet.sections.push_back(std::move(section));
    return sheet;
}

} // namespace

std::string parts_text(const PartsList& parts) {
    return sheet_text(sheet_of(parts));
}

std::string parts_markdown(const PartsList& parts) {
    return sheet_markdown(sheet_of(parts));
}

std::string parts_csv(const PartsList& parts) {
    std::ostringstream out;
    CsvWriter csv(out, CsvWriter::Ends::crlf);
    csv.record("part", "value", "count", "unit", "spare", "use");
    for (const PartRow& row : parts.rows)
        csv.record(row.part, row.value, fmt::format("{:g}", row.count), row.unit,
                   fmt::format("{:g}", row.spare), row.use);
    if (!parts.still_example.notice.empty())
        csv.record("missing", parts.still_example.notice, "", "", "", "");
    for (const std::string& text : parts.missing)
        csv.record("missing", text, "", "", "", "");
    csv.flush();
    return out.str();
}

std::string parts_json(const PartsList& parts) {
    Json json{{"schema", "winkhold.parts/1"}, {"vehicle", parts.vehicle}, {"parts", Json::array()}};
    for (const PartRow& row : parts.rows)
        json["parts"].push_back({{"part", row.part},
                                 {"value", row.value},
                                 {"count", row.count},
                                 {"unit", row.unit},
                                 {"spare", row.spare},
                                 {"use", row.use}});
    json["missing"] = parts.missing;
    if (!parts.still_example.sections.empty()) json["still_example"] = parts.still_example.sections;
    json["caution"] = caution_line();
    return json_text(json);
}

} // namespace winkhold::bike
