// The electrics for people.
#include "numbers.hpp"
#include "report/wrapped.hpp"
#include "winkhold/host/report/electrics_report.hpp"
#include "winkhold/host/report/names.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::host {
namespace {

constexpr std::size_t width = 100;

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
    std::string text = in_check(*check.value) + unit;
    if (check.limit)
        text += fmt::format(" ({} {}{})", check.bound == Bound::at_most ? "at most" : "at least",
                            in_check(*check.limit), unit);
    return text;
}

std::string check_text(const Check& check) {
    std::string text = fmt::format("{}: {}", check.part, check.what);
    if (check.verdict == Verdict::not_judged) {
        text += check.advice.empty() ? "" : "; needs " + check.advice;
        return wrapped("  ", "    ", text, width);
    }
    const std::string value = figure(check);
    if (!value.empty()) text += " " + value;
    if (check.verdict == Verdict::passed) return wrapped("  ", "    ", text, width);
    if (!check.source.empty()) text += " [" + check.source + "]";
    if (!check.advice.empty()) text += " -> " + check.advice;
    return wrapped("  ", "    ", text, width);
}

std::string checks_text(const Checks& checks, Verdict verdict, const char* title) {
    const auto count = std::count_if(checks.begin(), checks.end(),
                                     [&](const Check& check) { return check.verdict == verdict; });
    if (count == 0) return "";
    std::string text = fmt::format("\n{} ({})\n", title, count);
    for (const Check& check : checks)
        if (check.verdict == verdict) text += check_text(check);
    return text;
}

std::string front_end_text(const FrontEndFigures& f) {
    std::string text = "\nFront end, parts anywhere within their tolerance\n";
    text += fmt::format("  divides by {} to {}, time constant {} ms\n", number(1 / f.gain.most),
                        number(1 / f.gain.least), span(f.tau_us, 1e3));
    text += fmt::format("  the line reads high for certain above {:.2f} V, low again below {:.2f} V\n",
                        f.certain_high_v, f.certain_low_v);
    text += fmt::format("\n  {:>6}  {:>8}  {:<15} {:<15} {:<17} {:<9} {}\n", "line V", "margin V",
                        "rise after ms", "fall after ms", "width error ms", "rise skew", "fall skew ms");
    for (const EdgeFigures& e : f.edges)
        text += fmt::format("  {:>6g}  {:>8.2f}  {:<15} {:<15} {:<17} {:<9} {}\n", e.line_v, e.margin_v,
                            span(e.rise_us, 1e3), span(e.fall_us, 1e3), span(e.width_us, 1e3),
                            number(e.rise_skew_us / 1e3), number(e.fall_skew_us / 1e3));
    text += fmt::format("\n  {:<12} {:>7}  {:>9}  {:>8}  {:>9}  {}\n", "transient", "line V", "lasts ms",
                        "pin V", "clamp mA", "dark line reads high, ms");
    for (const TransientFigures& t : f.transients)
        text += fmt::format("  {:<12} {:>7g}  {:>9g}  {:>8.2f}  {:>9}  {}\n", t.transient.name,
                            t.transient.line_v, t.transient.length_us / 1e3, t.pin_v, number(t.clamp_ma),
                            number(t.high_us / 1e3));
    text += fmt::format("\n  let-go line at 16 V: {:.2f} V, pin {:.2f} V\n", f.dark_line_v, f.dark_pin_v);
    const auto leak = [](double ohm) { return std::isinf(ohm) ? "any" : number(ohm / 1e3) + " kohm"; };
    text += fmt::format(
        "  leakage from 16 V that makes a dark line read high: {} onto the line, {} onto the pin\n",
        leak(f.false_high_line_ohm), leak(f.false_high_pin_ohm));
    text += fmt::format("  and that keeps one that was lit high: {} onto the line, {} onto the pin\n",
                        leak(f.stuck_line_ohm), leak(f.stuck_pin_ohm));
    if (f.bleeder_w > 0)
        text += fmt::format("  bleeder: {:.2f} W at 16 V, take one for {:.2g} W or more\n", f.bleeder_w,
                            2 * f.bleeder_w);
    return text;
}

std::string group_text(const GroupLoad& load) {
    if (!load.known()) return fmt::format("  {:<16} not known\n", load.name);
    std::string text;
    for (const LampString& s : load.strings) {
        const std::string feed =
            s.resistor_ohm ? fmt::format("{:g} ohm, {}", *s.resistor_ohm,
                                         s.resistor_rating_w ? fmt::format("{:g} W", *s.resistor_rating_w)
                                                             : std::string("no common rating"))
                           : std::string("constant current");
        text += fmt::format("  {:<16} {:>3} x {:>2} LEDs  {:<18} {:>6.1f} mA ({})  {:>6.3f} W\n",
                            text.empty() ? load.name : "", s.count, s.leds, feed, s.nominal_ma, span(s.ma),
                            s.heat_w);
    }
    text += fmt::format("  {:<16} {:.0f} mA in all, {:.0f} at most", "", load.nominal_ma, load.most_ma);
    if (load.wire)
        text += fmt::format("; AWG {}, {:g} m: {:.2f} V lost{}", load.wire->gauge.awg, load.wire->length_m,
                            load.wire->drop_v,
                            load.wire->fuse_a ? fmt::format(", fuse {:g} A", *load.wire->fuse_a) : "");
    return text + "\n";
}

std::string loads_text(const Electrics& electrics) {
    if (electrics.groups.empty()) return "";
    std::string text =
        "\nStrings at full brightness: current at nominal volts (over all), heat in the part at most volts\n";
    for (const GroupLoad& load : electrics.groups)
        text += group_text(load);
    text += "\nLines\n";
    for (const LineTotal& line : electrics.lines)
        text += fmt::format("  {:<16} {:>6.0f} mA, {:.0f} at most{}\n", line.line, line.nominal_ma,
                            line.most_ma, line.all_known ? "" : ", without groups that are not known");
    text += "\nPins\n";
    for (const PinLoad& pin : electrics.pins)
        text += fmt::format("  {:<16} {:<15} {:>3} strings  {:>6.0f} mA, {:.0f} at most\n", pin.pin,
                            name(pin.driver), pin.strings, pin.nominal_ma, pin.most_ma);
    return text;
}

} // namespace

std::string electrics_text(const Electrics& electrics) {
    std::string text = electrics.vehicle + "\n";
    text += checks_text(electrics.checks, Verdict::finding, "Findings");
    text += checks_text(electrics.checks, Verdict::not_judged, "Not judged: not known");
    if (electrics.front_end) text += front_end_text(*electrics.front_end);
    text += loads_text(electrics);
    if (electrics.standby_days)
        text +=
            fmt::format("\nParked: {:.1f} days until 80 % of the battery is used\n", *electrics.standby_days);
    text += checks_text(electrics.checks, Verdict::passed, "Passed; --json says what each limit is from");
    return text + "\n" + std::string(caution);
}

} // namespace winkhold::host
