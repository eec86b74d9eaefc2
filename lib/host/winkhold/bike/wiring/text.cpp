// The wiring sheet for people and spreadsheets.
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/csv_writer.hpp"
#include "winkhold/base/text/detail/sheet.hpp"
#include "winkhold/bike/wiring/report.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <sstream>

namespace winkhold::bike {
namespace {

template <class Number>
std::string or_empty(const std::optional<Number>& number) {
    return number ? fmt::format("{:g}", static_cast<double>(*number)) : "";
}

std::string ma_text(const Wire& wire) {
    const std::optional<double> ma = load_ma(wire);
    return ma ? fmt::format("{:.4g}", *ma) : "";
}

std::string place_in_connector(const Wire& wire) {
    return wire.cavity.empty() ? wire.connector : fmt::format("{}/{}", wire.connector, wire.cavity);
}

std::string counted(std::size_t count, const char* one) {
    return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
}

/// Nothing of the example's passes.
std::string verdict_of(const WiringSheet& sheet) {
    const std::string found = !sheet.findings.empty()              ? counted(sheet.findings.size(), "finding")
                              : sheet.still_example.notice.empty() ? "nothing found wrong"
                                                                   : "nothing passed";
    return fmt::format("{}{}{}, {}{}{}, {} not judged.", sheet.still_example.notice,
                       sheet.still_example.notice.empty() ? "" : " ",
                       counted(sheet.wiring.wires.size(), "wire"), found, sheet.warnings.empty() ? "" : ", ",
                       sheet.warnings.empty() ? "" : counted(sheet.warnings.size(), "warning"),
                       counted(sheet.not_judged.size(), "check"));
}

void add_findings(const char* title, const std::vector<WireFinding>& findings, Sheet& paper) {
    if (findings.empty()) return;
    SheetSection section{title, {}, {}};
    for (const WireFinding& finding : findings)
        section.sentences.push_back(
            fmt::format("{}: {}: {}", finding.where, name(finding.kind), finding.text));
    paper.sections.push_back(std::move(section));
}

Sheet wiring_sheet(const WiringSheet& sheet) {
    Sheet paper;
    paper.title = fmt::format("Wiring of {}", sheet.wiring.vehicle);
    paper.verdict = verdict_of(sheet);

    SheetSection wires{
        "Connections", {}, {{"label", "colour", "from", "to", "AWG", "m", "fuse A", "mA", "connector"}, {}}};
    for (const Wire& wire : sheet.wiring.wires)
        wires.table.rows.push_back({wire.label, wire.colour, text(wire.from), text(wire.to),
                                    or_empty(wire.awg), or_empty(wire.length_m), or_empty(wire.fuse_a),
                                    ma_text(wire), place_in_connector(wire)});
    paper.sections.push_back(std::move(wires));

    if (!sheet.wiring.kept.empty()) {
        SheetSection kept{"Must stay connected", {}, {{"what", "kind", "line", "now", "why"}, {}}};
        for (const Kept& one : sheet.wiring.kept)
            kept.table.rows.push_back({one.name, std::string(name(one.kind)), one.line,
                                       one.connected ? "connected" : "NOT CONNECTED", one.why});
        paper.sections.push_back(std::move(kept));
    }
    add_findings("Findings", sheet.findings, paper);
    add_findings("Warnings: perhaps you mean it so", sheet.warnings, paper);
    if (!sheet.not_judged.empty())
        paper.sections.push_back({"Not judged: the file doesn't say enough", sheet.not_judged, {}});
    if (std::any_of(sheet.wiring.wires.begin(), sheet.wiring.wires.end(),
                    [](const Wire& wire) { return !wire.bundled; }))
        paper.sections.push_back(
            {"Taken for granted",
             {"Wires lie in a bundle with other loaded ones and carry half of what one alone does (common "
              "practice, no source), unless bundled = false."},
             {}});
    return paper;
}

} // namespace

std::string wiring_text(const WiringSheet& sheet) {
    return sheet_text(wiring_sheet(sheet));
}

std::string wiring_markdown(const WiringSheet& sheet) {
    return sheet_markdown(wiring_sheet(sheet));
}

std::string wiring_csv(const WiringSheet& sheet) {
    std::ostringstream out;
    CsvWriter csv(out, CsvWriter::Ends::crlf);
    csv.record("row", "label", "colour", "from", "to", "awg", "length_m", "fuse_a", "current_ma", "connector",
               "cavity", "where", "text");
    const auto add = [&](const std::string& row, const std::string& label, const std::string& where,
                         const std::string& text) {
        csv.record(row, label, "", "", "", "", "", "", "", "", "", where, text);
    };
    for (const Wire& wire : sheet.wiring.wires)
        csv.record("wire", wire.label, wire.colour, text(wire.from), text(wire.to), or_empty(wire.awg),
                   or_empty(wire.length_m), or_empty(wire.fuse_a), ma_text(wire), wire.connector, wire.cavity,
                   wire.where, wire.cuts ? "cuts the factory line" : "");
    for (const Kept& kept : sheet.wiring.kept)
        add("keep", kept.name, kept.where,
            fmt::format("{}{}{}{}", name(kept.kind), kept.connected ? "" : ", not connected",
                        kept.why.empty() ? "" : ": ", kept.why));
    for (const WireFinding& finding : sheet.findings)
        add("finding", std::string(name(finding.kind)), finding.where, finding.text);
    for (const WireFinding& warning : sheet.warnings)
        add("warning", std::string(name(warning.kind)), warning.where, warning.text);
    if (!sheet.still_example.notice.empty()) add("still-example", "", "", sheet.still_example.notice);
    for (const std::string& text : sheet.not_judged)
        add("not-judged", "", "", text);
    add("caution", "", "", caution_line());
    csv.flush();
    return out.str();
}

} // namespace winkhold::bike
