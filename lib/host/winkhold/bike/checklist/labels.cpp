#include "winkhold/bike/checklist/labels.hpp"

#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/csv_writer.hpp"
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/text/detail/sheet.hpp"
#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/bike/checklist/report.hpp"

#include <fmt/format.h>
#include <sstream>

namespace winkhold::bike {
namespace {

template <class Value>
std::string text_of(const std::optional<Value>& value) {
    return value ? fmt::format("{:g}", static_cast<double>(*value)) : std::string();
}

std::string plug(const Wire& wire) {
    return wire.connector.empty() ? "" : fmt::format("{} {}", wire.connector, wire.cavity);
}

Sheet sheet_of(const Vehicle& vehicle) {
    const Wiring wiring = wiring_of(vehicle);
    Sheet sheet;
    sheet.title = fmt::format("Cable labels of {}", vehicle.name());
    sheet.verdict =
        under_notice(still_example(vehicle),
                     fmt::format("{} wires; the same label goes on both ends of each.", wiring.wires.size()));
    SheetSection section{
        "Labels", {}, {{"label", "from", "to", "colour", "AWG", "length m", "fuse A", "plug"}, {}}};
    for (const Wire& wire : wiring.wires)
        section.table.rows.push_back({wire.label, text(wire.from), text(wire.to), wire.colour,
                                      text_of(wire.awg), text_of(wire.length_m), text_of(wire.fuse_a),
                                      plug(wire)});
    sheet.sections.push_back(std::move(section));
    return sheet;
}

} // namespace

std::string labels_text(const Vehicle& vehicle) {
    return sheet_text(sheet_of(vehicle));
}

std::string labels_markdown(const Vehicle& vehicle) {
    return sheet_markdown(sheet_of(vehicle));
}

std::string labels_csv(const Vehicle& vehicle) {
    std::ostringstream out;
    CsvWriter csv(out, CsvWriter::Ends::crlf);
    csv.record("label", "from", "to", "colour", "awg", "length_m", "fuse_a", "connector", "cavity");
    for (const Wire& wire : wiring_of(vehicle).wires)
        csv.record(wire.label, text(wire.from), text(wire.to), wire.colour, text_of(wire.awg),
                   text_of(wire.length_m), text_of(wire.fuse_a), wire.connector, wire.cavity);
    csv.flush();
    return out.str();
}

std::string labels_json(const Vehicle& vehicle) {
    Json json{{"schema", "winkhold.labels/1"}, {"vehicle", vehicle.name()}, {"labels", Json::array()}};
    for (const Wire& wire : wiring_of(vehicle).wires)
        json["labels"].push_back({{"label", wire.label},
                                  {"from", text(wire.from)},
                                  {"to", text(wire.to)},
                                  {"colour", wire.colour},
                                  {"awg", or_null(wire.awg)},
                                  {"length_m", or_null(wire.length_m)},
                                  {"fuse_a", or_null(wire.fuse_a)},
                                  {"connector", wire.connector},
                                  {"cavity", wire.cavity}});
    if (const StillExample still = still_example(vehicle); !still.sections.empty())
        json["still_example"] = still.sections;
    json["caution"] = caution_line();
    return json_text(json);
}

} // namespace winkhold::bike
