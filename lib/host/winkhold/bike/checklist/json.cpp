// The checklist for programs: JSON.
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/settings_text.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/bike/checklist/report.hpp"

#include <fmt/format.h>

namespace winkhold::bike {
namespace {

Json point_json(const PointRecord& record) {
    const CheckPoint& point = record.point;
    Json json{{"id", point.id},
              {"stage", name(point.stage)},
              {"task", point.task},
              {"unit", point.unit},
              {"least", or_null(point.least)},
              {"most", or_null(point.most)},
              {"source", point.source},
              {"needs_note", point.needs_note},
              {"standing", name(record.standing)},
              {"why", record.why},
              {"measured", nullptr}};
    if (record.measured) {
        const Measurement& one = *record.measured;
        json["measured"] = {{"value", or_null(one.value)},
                            {"done", or_null(one.done)},
                            {"with", one.with},
                            {"on", one.on},
                            {"by", one.by},
                            {"note", one.note},
                            {"where", one.where}};
    }
    return json;
}

Json reasons_json(const std::vector<Reason>& reasons) {
    Json json = Json::array();
    for (const Reason& reason : reasons)
        json.push_back({{"judge", name(reason.judge)}, {"text", reason.text}});
    return json;
}

} // namespace

std::string checklist_json(const Checklist& checklist) {
    Json json{{"schema", "winkhold.checklist/2"},
              {"verdict", name(checklist.readiness.verdict())},
              {"line", verdict_line(checklist.readiness)},
              {"against", reasons_json(checklist.readiness.against)},
              {"missing", reasons_json(checklist.readiness.missing)},
              {"judged_crc32", fmt::format("{:08x}", checklist.readiness.crc32)},
              {"certifies", no_certificate},
              {"vehicle", checklist.vehicle},
              {"program", checklist.program},
              {"files", Json::array()},
              {"passed", checklist.count(Standing::passed)},
              {"failed", checklist.count(Standing::failed)},
              {"open", checklist.count(Standing::open)},
              {"not_judged", checklist.count(Standing::not_judged)},
              {"points", Json::array()}};
    if (!checklist.still_example.sections.empty()) json["still_example"] = checklist.still_example.sections;
    for (const Vehicle::File& file : checklist.files)
        json["files"].push_back({{"path", file.path}, {"crc32", fmt::format("{:08x}", file.crc32)}});
    for (const PointRecord& record : checklist.points)
        json["points"].push_back(point_json(record));
    for (const NamedSetting& setting : named_settings)
        json["settings"][std::string(setting.name)] = value_text(checklist.decoder, setting.name);
    json["restore"] = checklist.restore;
    json["cautions"] = checklist.cautions;
    json["caution"] = caution_line();
    return json_text(json);
}

} // namespace winkhold::bike
