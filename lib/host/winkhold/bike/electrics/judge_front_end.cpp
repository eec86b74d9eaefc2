#include "winkhold/bike/electrics/front_end_figures.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

constexpr const char* part = "front end";

/// Names what is missing in the words of the file.
std::string missing_fields(const FrontEnd& f) {
    std::string names;
    const auto need = [&](bool known, const char* name) {
        if (!known) names += (names.empty() ? "" : ", ") + std::string(name);
    };
    need(f.top_kohm.has_value(), "top_kohm");
    need(f.bottom_kohm.has_value(), "bottom_kohm");
    need(f.capacitor_nf.has_value(), "capacitor_nf (0: none)");
    need(f.clamp.has_value(), "clamp");
    need(f.clamp != ClampKind::zener || f.zener_v.has_value(), "zener_v");
    const bool by_hand = f.rise_v && f.fall_v;
    const bool supply_matters = f.input == InputKind::adc || !by_hand || f.clamp == ClampKind::schottky ||
                                f.clamp == ClampKind::pin_diodes;
    need(f.pin_v.has_value() || !supply_matters, "pin_v");
    need(f.input.has_value(), "input");
    need(f.input == InputKind::adc || by_hand || !f.part.empty(), "part, or rise_v and fall_v");
    return names;
}

/// The most that the clamp may carry; none if not known.
std::optional<double> clamp_limit_ma(const FrontEnd& f) {
    if (f.clamp_ma) return f.clamp_ma;
    if (f.clamp == ClampKind::pin_diodes) return 1.0;
    return {};
}

/// The divider's share, within its tolerance.
FieldNames divider_fields() {
    return fields_in("front_end", {"top_kohm", "bottom_kohm", "resistor_percent"});
}

/// Where the clamp holds the pin.
FieldNames clamp_fields(const FrontEnd& f) {
    if (f.clamp == ClampKind::none) return fields_in("front_end", {"clamp"});
    if (f.clamp == ClampKind::zener) return fields_in("front_end", {"clamp", "zener_v"});
    return fields_in("front_end", {"clamp", "pin_v", "pin_v_percent"});
}

void judge_levels(const FrontEnd& f, const FrontEndFigures& figures, Checks& checks) {
    const std::string source = f.thresholds()->source;
    const std::size_t first = checks.size();
    const char* const divide_less =
        "a larger bottom resistor or a smaller top one, or an input with lower thresholds";
    checks.push_back(judged(part, "a lit line reads high from 9 V up: it does from", figures.certain_high_v,
                            Bound::at_most, 9, "V", source, divide_less));
    checks.push_back(judged(part, "and in a crank dip to 6 V or a filament's inrush", figures.certain_high_v,
                            Bound::at_most, 6, "V", "crank plateau of starting profiles (quoted); " + source,
                            divide_less));
    checks.push_back(judged(part, "a dark line on a poor ground reads low: it does up to",
                            figures.certain_low_v, Bound::at_least, 1.5, "V",
                            "1.5 V: common practice, no source; " + source,
                            "an input with higher thresholds, or divide more"));
    checks.push_back(resting_on(
        clamp_fields(f), judged(part, "the clamp leaves room above the threshold", f.clamp_volts()->least,
                                Bound::at_least, f.thresholds()->rise_v.most, "V", source,
                                "it holds the pin below where it would read high: another clamp")));
    if (f.input == InputKind::adc)
        checks.push_back(judged(part, "the converter's range reaches above the threshold",
                                f.pin_volts()->least, Bound::at_least, f.thresholds()->rise_v.most, "V",
                                source, "divide more: the reading stops at its reference, pin_v"));
    rest_on(fields_of_levels(f), checks, first);
}

void judge_overvoltage(const FrontEnd& f, const FrontEndFigures& figures, Checks& checks) {
    const std::size_t first = checks.size();
    const char* const pin_source =
        "supply of the pin + 0.5 V: usual absolute maximum, ATmega328P data sheet (from memory)";
    if (const auto pin = f.pin_volts(); !pin)
        checks.push_back(not_judged(part, "volts at the pin", "pin_v in [front_end]"));
    else if (f.clamp != ClampKind::pin_diodes) {
        double most_v = std::min(figures.gain.most * 16, f.clamp_volts()->most);
        checks.push_back(judged(part, "pin at 16 V on the line", most_v, Bound::at_most, pin->least + 0.5,
                                "V", pin_source, "divide more, or a clamp that begins lower"));
        const auto worst = std::max_element(
            figures.transients.begin(), figures.transients.end(),
            [](const auto& a, const auto& b) { return std::abs(a.pin_v) < std::abs(b.pin_v); });
        if (f.clamp == ClampKind::none)
            checks.push_back(resting_on(
                fields_in("front_end", {"capacitor_nf", "capacitor_percent"}),
                judged(part,
                       fmt::format("pin in {} of {:g} V", worst->transient.name, worst->transient.line_v),
                       std::abs(worst->pin_v), Bound::at_most, worst->pin_v > 0 ? pin->least + 0.5 : 0.5, "V",
                       pin_source, "fit a clamp at the pin")));
    }
    rest_on(divider_fields() + clamp_fields(f) + fields_in("front_end", {"pin_v", "pin_v_percent"}), checks,
            first);
    if (f.clamp == ClampKind::none) return;
    const auto worst = std::max_element(figures.transients.begin(), figures.transients.end(),
                                        [](const auto& a, const auto& b) { return a.clamp_ma < b.clamp_ma; });
    const std::string what =
        fmt::format("clamp current in {} of {:g} V", worst->transient.name, worst->transient.line_v);
    if (const auto limit = clamp_limit_ma(f))
        checks.push_back(resting_on(
            divider_fields() + clamp_fields(f) +
                (f.clamp_ma ? fields_in("front_end", {"clamp_ma"}) : FieldNames{}),
            judged(part, what, worst->clamp_ma, Bound::at_most, *limit, "mA",
                   f.clamp_ma ? "clamp_ma in the file; transient: " + std::string(worst->transient.source)
                              : "1 mA: a chip maker's note on pin diodes (from memory)",
                   "a larger top resistor, or a clamp that carries more")));
    else
        checks.push_back(not_judged(
            part, what, fmt::format("clamp_ma, what it may carry; it gets {:.2g} mA", worst->clamp_ma)));
}

void judge_timing(const FrontEnd& f, const FrontEndFigures& figures, TimeUs handover_us, TimeUs settle_us,
                  Checks& checks) {
    const std::size_t first = checks.size();
    double skew_us = 0;
    for (const EdgeFigures& edges : figures.edges)
        if (edges.line_v >= 9) skew_us = std::max(skew_us, edges.rise_skew_us);
    const char* const what = "skew that it adds between both sides, rising, 9-16 V";
    if (handover_us == 0)
        checks.push_back(not_judged(part, what, "handover is off, no window to hold it to"));
    else
        checks.push_back(judged(part, what, skew_us / 1e3, Bound::at_most,
                                static_cast<double>(handover_us) / 1e3 / 2, "ms",
                                "half the decoder's handover window; the bike's own skew needs the rest",
                                "a smaller capacitor, closer tolerances, or a longer handover"));
    double high_us = 0;
    for (const TransientFigures& t : figures.transients)
        if (t.transient.length_us < static_cast<double>(settle_us)) high_us = std::max(high_us, t.high_us);
    checks.push_back(judged(part, "false high after a short transient", high_us / 1e3, Bound::at_most,
                            static_cast<double>(settle_us) / 1e3, "ms",
                            "the decoder's settle; transients: VND5E160J data sheet (read)",
                            "a longer settle, or a larger capacitor"));
    rest_on(fields_of_edges(f, TappedLine::left) + fields_in("front_end", {"active_right"}), checks, first);
}

void judge_leakage(const FrontEnd& f, const char* what, double harm_ohm,
                   const std::optional<double>& wet_kohm, const char* key, const char* advice,
                   Checks& checks) {
    if (std::isinf(harm_ohm))
        checks.push_back(judged(part, fmt::format("{}: none is needed, the pull-up alone does it", what),
                                false, f.thresholds()->source, advice));
    else if (wet_kohm)
        checks.push_back(
            resting_on(fields_in("front_end", {key}),
                       judged(part, what, harm_ohm / 1e3, Bound::at_most, *wet_kohm, "kohm",
                              fmt::format("{} in the file; {}", key, f.thresholds()->source), advice)));
    else
        checks.push_back(not_judged(part, what,
                                    fmt::format("{}, the least resistance that yours has when wet; below "
                                                "{:.3g} kohm a dark line may read high",
                                                key, harm_ohm / 1e3)));
}

void judge_dark(const FrontEnd& f, const FrontEndFigures& figures, Checks& checks) {
    const std::size_t first = checks.size();
    const char* const ghost = "let-go line at 16 V with the flasher's pull-up";
    if (!f.pull_up_kohm)
        checks.push_back(not_judged(part, ghost,
                                    "pull_up_kohm: what a flasher without load lifts its line with (3.6 was "
                                    "inferred for one); 0 if it has none"));
    else
        checks.push_back(judged(
            part, ghost, figures.dark_line_v, Bound::at_most, figures.certain_low_v, "V",
            f.thresholds()->source,
            figures.bleeder_needed_ohm > 0
                ? fmt::format("a bleeder of {:g} ohm or less from line to ground", figures.bleeder_needed_ohm)
                : ""));
    judge_leakage(f, "leakage from 16 V onto the line (wet harness) that does harm",
                  std::max(figures.false_high_line_ohm, figures.stuck_line_ohm), f.wet_kohm, "wet_kohm",
                  "a smaller bleeder, sealed connectors", checks);
    judge_leakage(f, "leakage from 16 V onto the tap's wire behind the top resistor that does harm",
                  std::max(figures.false_high_pin_ohm, figures.stuck_pin_ohm), f.wet_pin_kohm, "wet_pin_kohm",
                  "smaller divider resistors, a coated board, the top resistor at the board", checks);
    FieldNames fields = fields_of_levels(f) + fields_in("front_end", {"pull_up_kohm"});
    if (f.bleeder_ohm) fields = fields + fields_in("front_end", {"bleeder_ohm"});
    rest_on(fields, checks, first);
}

} // namespace

void judge_front_end(const FrontEnd& front_end, TimeUs handover_us, TimeUs settle_us, Checks& checks) {
    const auto figures = figures_of(front_end);
    if (!figures) {
        checks.push_back(not_judged(part, "everything", missing_fields(front_end)));
        return;
    }
    judge_levels(front_end, *figures, checks);
    judge_overvoltage(front_end, *figures, checks);
    judge_timing(front_end, *figures, handover_us, settle_us, checks);
    judge_dark(front_end, *figures, checks);
}

} // namespace winkhold::bike
