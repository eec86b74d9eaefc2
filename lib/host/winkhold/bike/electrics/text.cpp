// The electrics for people.
#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/text/detail/sheet.hpp"
#include "winkhold/bike/electrics/report.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::bike {
namespace {

std::string number(double value) {
    return std::isinf(value) ? "never" : short_number(value);
}

std::string span(const Range& range, double unit = 1) {
    return number(range.least / unit) + " - " + number(range.most / unit);
}

std::string in_check(double value) {
    return std::isinf(value) ? "endless" : short_number(value);
}

/// "3.1 V (at most 9 V)"
std::string figure(const Check& check) {
    if (!check.value) return "";
    const std::string unit = check.unit.empty() ? "" : " " + check.unit;
    if (!check.limit) return in_check(*check.value) + unit;
    auto [value, limit] = told_apart(*check.value, *check.limit);
    if (std::isinf(*check.value)) value = in_check(*check.value);
    if (std::isinf(*check.limit)) limit = in_check(*check.limit);
    return fmt::format("{}{} ({} {}{})", value, unit, check.bound == Bound::at_most ? "at most" : "at least",
                       limit, unit);
}

std::string check_text(const Check& check) {
    std::string text = fmt::format("{}: {}", check.part, check.what);
    if (check.verdict == CheckVerdict::not_judged)
        return text + (check.rests_on.empty() ? "; needs " : ": ") + check.advice;
    const std::string value = figure(check);
    if (!value.empty()) text += " " + value;
    if (check.verdict == CheckVerdict::passed) return text;
    if (!check.source.empty()) text += " [" + check.source + "]";
    if (!check.advice.empty()) text += " -> " + check.advice;
    return text;
}

auto count_of(const Checks& checks, CheckVerdict verdict) {
    return std::count_if(checks.begin(), checks.end(),
                         [&](const Check& check) { return check.verdict == verdict; });
}

void add_checks(Sheet& sheet, const Checks& checks, CheckVerdict verdict, const char* title) {
    SheetSection section{fmt::format("{} ({})", title, count_of(checks, verdict))};
    for (const Check& check : checks)
        if (check.verdict == verdict) section.sentences.push_back(check_text(check));
    if (!section.sentences.empty()) sheet.sections.push_back(std::move(section));
}

constexpr Align right = Align::right;

Table edges_table(const FrontEndFigures& f) {
    Table table{{{"line V", right},
                 {"margin V", right},
                 "rise after ms",
                 "fall after ms",
                 "width error ms",
                 {"rise", right, "skew ms"},
                 {"fall", right, "skew ms"}}};
    for (const EdgeFigures& e : f.edges)
        table.rows.push_back({fmt::format("{:g}", e.line_v), fmt::format("{:.2f}", e.margin_v),
                              span(e.rise_us, 1e3), span(e.fall_us, 1e3), span(e.width_us, 1e3),
                              number(e.rise_skew_us / 1e3), number(e.fall_skew_us / 1e3)});
    return table;
}

Table taps_table(const FrontEndFigures& f) {
    Table table{{"tap", "lit is"}};
    for (const EdgeFigures& edges : f.taps.front().edges)
        if (edges.line_v == 9 || edges.line_v == 14.4)
            for (const char* what : {"lit", "dark"})
                table.columns.push_back(fmt::format("{} at {:g} V", what, edges.line_v));
    for (const TapFigures& tap : f.taps) {
        std::vector<std::string> row{std::string(name(tap.line)), tap.active_low ? "low" : "high"};
        for (const EdgeFigures& edges : tap.edges)
            if (edges.line_v == 9 || edges.line_v == 14.4) {
                row.push_back(span(edges.lit_us(tap.active_low), 1e3));
                row.push_back(span(edges.dark_us(tap.active_low), 1e3));
            }
        table.rows.push_back(std::move(row));
    }
    return table;
}

Table transients_table(const FrontEndFigures& f) {
    Table table{{"transient",
                 {"line V", right},
                 {"lasts ms", right},
                 {"pin V", right},
                 {"clamp mA", right},
                 {"dark line reads high, ms", right}}};
    for (const TransientFigures& t : f.transients)
        table.rows.push_back({std::string(t.transient.name), fmt::format("{:g}", t.transient.line_v),
                              fmt::format("{:g}", t.transient.length_us / 1e3),
                              fmt::format("{:.2f}", t.pin_v), number(t.clamp_ma), number(t.high_us / 1e3)});
    return table;
}

void add_front_end(Sheet& sheet, const FrontEndFigures& f) {
    const auto leak = [](double ohm) { return std::isinf(ohm) ? "any" : number(ohm / 1e3) + " kohm"; };
    sheet.sections.push_back(
        {"Front end, parts anywhere within their tolerance",
         {fmt::format("divides by {} to {}, time constant {} ms", number(1 / f.gain.most),
                      number(1 / f.gain.least), span(f.tau_us, 1e3)),
          fmt::format("the line reads high for certain above {:.2f} V, low again below {:.2f} V",
                      f.certain_high_v, f.certain_low_v),
          "of the turn lines: a line that a lamp holds rises from 0 V, one that is let go from where the "
          "flasher's load sense lifts it to"},
         edges_table(f)});
    sheet.sections.push_back({"Taps: ms from the switch until it reads lit, and dark", {}, taps_table(f)});
    sheet.sections.push_back({"Transients", {}, transients_table(f)});
    SheetSection leakage{
        "Leakage",
        {fmt::format("let-go line at 16 V: {:.2f} V, pin {:.2f} V", f.dark_line_v, f.dark_pin_v),
         fmt::format("leakage from 16 V that makes a dark line read high: {} onto the line, "
                     "{} onto the pin",
                     leak(f.false_high_line_ohm), leak(f.false_high_pin_ohm)),
         fmt::format("and that keeps one that was lit high: {} onto the line, {} onto the pin",
                     leak(f.stuck_line_ohm), leak(f.stuck_pin_ohm))}};
    if (f.bleeder_w > 0)
        leakage.sentences.push_back(fmt::format("bleeder: {:.2f} W at 16 V, take one for {:.2g} W or more",
                                                f.bleeder_w, 2 * f.bleeder_w));
    sheet.sections.push_back(std::move(leakage));
}

std::string feed(const LampString& s) {
    if (!s.resistor_ohm) return "constant current";
    return fmt::format("{:g} ohm, {}", *s.resistor_ohm,
                       s.resistor_rating_w ? fmt::format("{:g} W", *s.resistor_rating_w)
                                           : "no common rating");
}

void add_loads(Sheet& sheet, const Electrics& electrics) {
    if (electrics.groups.empty()) return;
    Table strings{{"group",
                   {"strings", right},
                   {"LEDs each", right},
                   "resistor",
                   {"mA", right},
                   "mA over all",
                   {"W", right}}};
    Table groups{{"group",
                  {"mA", right},
                  {"at most", right},
                  {"AWG", right},
                  {"m", right},
                  {"V lost", right},
                  {"fuse A", right}}};
    for (const GroupLoad& load : electrics.groups) {
        if (!load.known()) {
            groups.rows.push_back({load.name, "not known", "", "", "", "", ""});
            continue;
        }
        for (const LampString& s : load.strings)
            strings.rows.push_back({&s == &load.strings.front() ? load.name : "", fmt::format("{}", s.count),
                                    fmt::format("{}", s.leds), feed(s), fmt::format("{:.1f}", s.nominal_ma),
                                    span(s.ma), fmt::format("{:.3f}", s.heat_w)});
        groups.rows.push_back(
            {load.name, fmt::format("{:.0f}", load.nominal_ma), fmt::format("{:.0f}", load.most_ma),
             load.wire ? fmt::format("{}", load.wire->gauge.awg) : "",
             load.wire ? fmt::format("{:g}", load.wire->length_m) : "",
             load.wire ? fmt::format("{:.2f}", load.wire->drop_v) : "",
             load.wire && load.wire->fuse_a ? fmt::format("{:g}", *load.wire->fuse_a) : ""});
    }
    Table lines{{"line", {"mA", right}, {"at most", right}, ""}};
    for (const LineTotal& line : electrics.lines)
        lines.rows.push_back({std::string(line.line), fmt::format("{:.0f}", line.nominal_ma),
                              fmt::format("{:.0f}", line.most_ma),
                              line.all_known ? "" : "without groups that are not known"});
    Table pins{{"pin", "driver", {"strings", right}, {"mA", right}, {"at most", right}}};
    for (const PinLoad& pin : electrics.pins)
        pins.rows.push_back({pin.pin, std::string(name(pin.driver)), fmt::format("{}", pin.strings),
                             fmt::format("{:.0f}", pin.nominal_ma), fmt::format("{:.0f}", pin.most_ma)});
    sheet.sections.push_back(
        {"Strings at full brightness, at nominal volts; heat in the part at most volts", {}, strings});
    sheet.sections.push_back({"Groups", {}, groups});
    sheet.sections.push_back({"Lines", {}, lines});
    sheet.sections.push_back({"Pins", {}, pins});
}

} // namespace

std::string electrics_text(const Electrics& electrics) {
    const Checks& checks = electrics.checks;
    Sheet sheet;
    sheet.title = electrics.vehicle;
    sheet.verdict =
        fmt::format("{} findings, {} checks not judged, {} passed.", count_of(checks, CheckVerdict::finding),
                    count_of(checks, CheckVerdict::not_judged), count_of(checks, CheckVerdict::passed));
    for (const std::string& warning : electrics.warnings)
        sheet.verdict += " Warning: " + warning + ".";
    if (!electrics.still_example.notice.empty())
        sheet.verdict = legible(electrics.still_example.notice) + " " + sheet.verdict;
    add_checks(sheet, checks, CheckVerdict::finding, "Findings");
    add_checks(sheet, checks, CheckVerdict::not_judged, "Not judged: not known");
    if (electrics.front_end) add_front_end(sheet, *electrics.front_end);
    add_loads(sheet, electrics);
    if (electrics.standby_days)
        sheet.sections.push_back(
            {"Parked",
             {fmt::format("{:.1f} days until 80 % of the battery is used, by the board and by itself",
                          *electrics.standby_days)}});
    add_checks(sheet, checks, CheckVerdict::passed, "Passed; --json says what each limit is from");
    return sheet_text(sheet);
}

} // namespace winkhold::bike
