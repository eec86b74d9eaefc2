#include "winkhold/bike/electrics/front_end_figures.hpp"

#include "winkhold/bike/electrics/e24.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::bike {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double most_supply_v = 16;

/// Grows to hold every value it is given.
struct Span {
    Range range{infinite, -infinite};

    void add(double value) {
        range.least = std::min(range.least, value);
        range.most = std::max(range.most, value);
    }
};

/// What keeps the pin from going below ground: the same parts, the other way round.
constexpr double below_ground_v = -0.5;

TransientFigures figures_of(const Transient& transient, const FrontEnd& front_end,
                            const std::vector<Corner>& all) {
    TransientFigures figures;
    figures.transient = transient;
    const bool clamped = *front_end.clamp != ClampKind::none;
    const bool up = transient.line_v > 0;
    for (const auto& [parts, holder] : all) {
        const LowPass lit = low_pass(parts);
        const double goal_v = lit.gain * transient.line_v;
        const double left = lit.tau_us > 0 ? std::exp(-transient.length_us / lit.tau_us) : 0;
        const double from_v = up ? lit.gain * most_supply_v : 0; // on top of a lit line
        double end_v = goal_v + (from_v - goal_v) * left;
        const double stop_v = up ? parts.clamp_v : below_ground_v;
        if (clamped && (up ? end_v > stop_v : end_v < stop_v)) {
            end_v = stop_v;
            const double ma = 1e3 * ((transient.line_v - stop_v) / parts.top_ohm - stop_v / parts.bottom_ohm);
            figures.clamp_ma = std::max(figures.clamp_ma, std::abs(ma));
        }
        figures.pin_v = up ? std::max(figures.pin_v, end_v) : std::min(figures.pin_v, end_v);
        // a dark line starts where the load sense lifts it to
        const LowPass dark = low_pass(parts, holder.ohm());
        const double dark_line_v = holder.volts(most_supply_v);
        const double dark_v = dark.gain * dark_line_v;
        const double rise_us =
            dark_v >= parts.rise_v ? 0 : crossing_us(lit, transient.line_v, dark_v, parts.rise_v);
        if (rise_us >= transient.length_us || parts.clamp_v < parts.rise_v) continue;
        const double peak_v = std::min(goal_v + (dark_v - goal_v) * left, parts.clamp_v);
        const double fall_us =
            peak_v > parts.fall_v ? crossing_us(dark, dark_line_v, peak_v, parts.fall_v) : 0;
        figures.high_us = std::max(figures.high_us, transient.length_us - rise_us + fall_us);
    }
    return figures;
}

/// Leakage from the supply onto line or pin at which the pin of a let-go line comes to `at_v`.
struct Leakage {
    double line_ohm;
    double pin_ohm;
};

double ohm_of(double siemens) {
    return siemens > 0 ? 1 / siemens : infinite; // 0 or less: without any leakage, too
}

Leakage leakage_to(double at_v, const Corner& corner) {
    const auto& [parts, holder] = corner;
    const double line_v = at_v / low_pass(parts).gain;
    const double load = holder.bleeder_siemens + 1 / (parts.top_ohm + parts.bottom_ohm);
    const double onto_line =
        line_v < most_supply_v ? line_v * load / (most_supply_v - line_v) - holder.pull_up_siemens : infinite;
    const double source_ohm = parts.top_ohm + holder.ohm();
    const double from_line_a = (holder.volts(most_supply_v) - at_v) / source_ohm;
    const double onto_pin =
        at_v < most_supply_v ? (at_v / parts.bottom_ohm - from_line_a) / (most_supply_v - at_v) : infinite;
    return {ohm_of(onto_line), ohm_of(onto_pin)};
}

} // namespace

const std::vector<Transient>& published_transients() {
    // Level IV of a 12 V system as the VND5E160J data sheet prints it (read); 2a and 3b on 13.5 V of supply.
    static const std::vector<Transient> list{
        {"pulse 1", -100, 2'000, "level IV, VND5E160J data sheet (read)"},
        {"pulse 2a", 50 + 13.5, 50, "level IV, VND5E160J data sheet (read), on 13.5 V"},
        {"pulse 3a", -150, 0.1, "level IV, VND5E160J data sheet (read)"},
        {"pulse 3b", 100 + 13.5, 0.1, "level IV, VND5E160J data sheet (read), on 13.5 V"},
        {"pulse 5b", 87, 400'000, "clamped load dump, level IV, VND5E160J data sheet (read)"},
    };
    return list;
}

std::optional<FrontEndFigures> figures_of(const FrontEnd& front_end) {
    const auto nominal = front_end.nominal();
    if (!nominal) return {};
    const std::vector<Corner> all = corners(front_end, TappedLine::left);
    FrontEndFigures figures;
    figures.certain_low_v = infinite;
    Span gain;
    Span tau_us;
    double needed = -infinite; // siemens from line to ground
    for (const Corner& corner : all) {
        const auto& [parts, holder] = corner;
        const LowPass lit = low_pass(parts);
        gain.add(lit.gain);
        tau_us.add(lit.tau_us);
        figures.certain_high_v = std::max(figures.certain_high_v, parts.rise_v / lit.gain);
        figures.certain_low_v = std::min(figures.certain_low_v, parts.fall_v / lit.gain);
        const double divider_ohm = parts.top_ohm + parts.bottom_ohm;
        const double source_v = holder.volts(most_supply_v);
        const double let_go_v = source_v > 0 ? source_v * divider_ohm / (divider_ohm + holder.ohm()) : 0;
        figures.dark_line_v = std::max(figures.dark_line_v, let_go_v);
        figures.dark_pin_v = std::max(figures.dark_pin_v, let_go_v * lit.gain);
        const Leakage rise = leakage_to(parts.rise_v, corner);
        const Leakage stuck = leakage_to(parts.fall_v, corner);
        figures.false_high_line_ohm = std::max(figures.false_high_line_ohm, rise.line_ohm);
        figures.false_high_pin_ohm = std::max(figures.false_high_pin_ohm, rise.pin_ohm);
        figures.stuck_line_ohm = std::max(figures.stuck_line_ohm, stuck.line_ohm);
        figures.stuck_pin_ohm = std::max(figures.stuck_pin_ohm, stuck.pin_ohm);
    }
    figures.gain = gain.range;
    figures.tau_us = tau_us.range;
    const double low_v = figures.certain_low_v;
    for (const auto& [parts, holder] : all)
        if (low_v < most_supply_v && low_v > 0)
            needed = std::max(needed, holder.pull_up_siemens * (most_supply_v - low_v) / low_v -
                                          1 / (parts.top_ohm + parts.bottom_ohm));
    const double r = front_end.resistor_percent / 100;
    if (needed > 0) figures.bleeder_needed_ohm = e24_down(1 / needed / (1 + r));
    if (front_end.bleeder_ohm)
        figures.bleeder_w = most_supply_v * most_supply_v / (*front_end.bleeder_ohm * (1 - r));
    for (const TappedLine line : tapped_lines) {
        if (!front_end.has(line)) continue;
        TapFigures& tap = figures.taps.emplace_back(TapFigures{line, front_end.is_active_low(line), {}});
        for (const double line_v : {6.0, 9.0, 12.0, 14.4, 16.0})
            tap.edges.push_back(edges_at(line_v, front_end, line));
    }
    figures.edges = figures.taps.front().edges;
    for (const Transient& transient : published_transients())
        figures.transients.push_back(figures_of(transient, front_end, all));
    return figures;
}

} // namespace winkhold::bike
