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
    Json json{{"id", point.id},         {"stage", name(point.stage)},        {"task", point.task},
              {"unit", point.unit},     {"least", or_null(point.least)},     {"most", or_null(point.most)},
              {"source", point.source}, {"standing", name(record.standing)}, {"measured", nullptr}};
    if (record.measured) {
        const Measurement& one = *record.measured;
        json["measured"] = {{"value", or_null(one.value)},
                            {"done", or_null(one.done)},
                            {"on", one.on},
                            {"by", one.by},
                            {"note", one.note},
                            {"where", one.where}};
    }
    return json;
}

} // namespace

std::string checklist_json(const Checklist& checklist) {
    Json json{{"schema", "winkhold.checklist/1"},
              {"vehicle", checklist.vehicle},
              {"program", checklist.program},
              {"files", Json::array()},
              {"passed", checklist.count(Standing::passed)},
              {"failed", checklist.count(Standing::failed)},
              {"open", checklist.count(Standing::open)},
              {"not_judged", checklist.count(Standing::not_judged)},
              {"wiring_findings", or_null(checklist.wiring_findings)},
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
