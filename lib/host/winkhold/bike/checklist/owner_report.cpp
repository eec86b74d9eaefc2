// The owner's sheet for people and programs.
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/csv_writer.hpp"
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/text/detail/sheet.hpp"
#include "winkhold/bike/checklist/owner.hpp"
#include "winkhold/bike/checklist/report.hpp"

#include <fmt/format.h>
#include <sstream>

namespace winkhold::bike {
namespace {

Sheet sheet_of(const OwnerSheet& owner) {
    Sheet sheet;
    sheet.title = verdict_line(owner.readiness);
    sheet.verdict = under_notice(owner.still_example,
                                 fmt::format("Owner's sheet of {}. {}", owner.vehicle, no_certificate));
    for (const OwnerSection& section : owner.sections)
        sheet.sections.push_back({section.title, section.sentences, {}});
    return sheet;
}

} // namespace

std::string owner_text(const OwnerSheet& owner) {
    return sheet_text(sheet_of(owner));
}

std::string owner_markdown(const OwnerSheet& owner) {
    return sheet_markdown(sheet_of(owner));
}

std::string owner_csv(const OwnerSheet& owner) {
    std::ostringstream out;
    CsvWriter csv(out, CsvWriter::Ends::crlf);
    csv.record("section", "text");
    csv.record("Verdict", verdict_line(owner.readiness));
    csv.record("Verdict", std::string(no_certificate));
    for (const OwnerSection& section : owner.sections)
        for (const std::string& text : section.sentences)
            csv.record(section.title, text);
    csv.record("Caution", caution_line());
    csv.flush();
    return out.str();
}

std::string owner_json(const OwnerSheet& owner) {
    Json json{{"schema", "winkhold.owner/1"},
              {"verdict", name(owner.readiness.verdict())},
              {"line", verdict_line(owner.readiness)},
              {"certifies", no_certificate},
              {"judged_crc32", fmt::format("{:08x}", owner.readiness.crc32)},
              {"vehicle", owner.vehicle},
              {"sections", Json::array()}};
    for (const OwnerSection& section : owner.sections)
        json["sections"].push_back({{"title", section.title}, {"sentences", section.sentences}});
    if (!owner.still_example.sections.empty()) json["still_example"] = owner.still_example.sections;
    json["caution"] = caution_line();
    return json_text(json);
}

} // namespace winkhold::bike
