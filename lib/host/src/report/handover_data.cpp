// The hand-over record for programs: JSON.
#include "report/optional_json.hpp"
#include "report/sheet.hpp"
#include "winkhold/host/report/handover_report.hpp"
#include "winkhold/host/settings_text.hpp"

#include <fmt/format.h>

namespace winkhold::host {
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

std::string handover_json(const Handover& handover) {
    Json json{{"schema", "winkhold.handover/1"},
              {"vehicle", handover.vehicle},
              {"program", handover.program},
              {"files", Json::array()},
              {"passed", handover.count(Standing::passed)},
              {"failed", handover.count(Standing::failed)},
              {"open", handover.count(Standing::open)},
              {"not_judged", handover.count(Standing::not_judged)},
              {"wiring_findings", or_null(handover.wiring_findings)},
              {"points", Json::array()}};
    for (const FileVersion& file : handover.files)
        json["files"].push_back({{"path", file.path}, {"crc32", fmt::format("{:08x}", file.crc32)}});
    for (const PointRecord& record : handover.points)
        json["points"].push_back(point_json(record));
    for (const NamedSetting& setting : named_settings)
        json["settings"][std::string(setting.name)] = value_text(handover.decoder, setting.name);
    json["restore"] = handover.restore;
    json["cautions"] = handover.cautions;
    json["caution"] = caution_line();
    return json.dump(1) + "\n";
}

} // namespace winkhold::host
