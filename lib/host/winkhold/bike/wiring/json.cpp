// The wiring sheet for programs: JSON.
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/bike/wiring/report.hpp"

namespace winkhold::bike {
namespace {

Json end_json(const WireEnd& end) {
    return {{"kind", name(end.kind)}, {"name", end.name}};
}

Json findings_json(const std::vector<WireFinding>& findings) {
    Json json = Json::array();
    for (const WireFinding& finding : findings)
        json.push_back({{"finding", name(finding.kind)}, {"where", finding.where}, {"text", finding.text}});
    return json;
}

} // namespace

std::string wiring_json(const WiringSheet& sheet) {
    Json json{{"schema", "winkhold.wiring/1"}, {"vehicle", sheet.wiring.vehicle}};
    if (!sheet.still_example.sections.empty()) json["still_example"] = sheet.still_example.sections;
    json["wires"] = Json::array();
    for (const Wire& wire : sheet.wiring.wires)
        json["wires"].push_back({{"label", wire.label},
                                 {"colour", wire.colour},
                                 {"from", end_json(wire.from)},
                                 {"to", end_json(wire.to)},
                                 {"awg", or_null(wire.awg)},
                                 {"length_m", or_null(wire.length_m)},
                                 {"fuse_a", or_null(wire.fuse_a)},
                                 {"current_ma", or_null(load_ma(wire))},
                                 {"connector", wire.connector},
                                 {"cavity", wire.cavity},
                                 {"cuts", wire.cuts},
                                 {"bundled", wire.bundled.value_or(true)},
                                 {"where", wire.where}});
    json["keep"] = Json::array();
    for (const Kept& kept : sheet.wiring.kept)
        json["keep"].push_back({{"name", kept.name},
                                {"kind", name(kept.kind)},
                                {"line", kept.line},
                                {"why", kept.why},
                                {"connected", kept.connected},
                                {"where", kept.where}});
    json["findings"] = findings_json(sheet.findings);
    json["warnings"] = findings_json(sheet.warnings);
    json["not_judged"] = sheet.not_judged;
    json["caution"] = caution_line();
    return json_text(json);
}

} // namespace winkhold::bike
