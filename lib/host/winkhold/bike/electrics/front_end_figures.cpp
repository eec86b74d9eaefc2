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

/// Every part at the ends of its tolerance. Delays go one way with each of them, but for a resistor, which
/// moves gain and time constant against each other: its middle is looked at, too.
std::vector<InputNetwork> corners(const FrontEnd& front_end, const InputNetwork& nominal) {
    const Thresholds limits = front_end.thresholds().value();
    const Range clamp_v = front_end.clamp_volts().value();
    const double r = front_end.resistor_percent / 100;
    const double c = front_end.capacitor_percent / 100;
    std::vector<InputNetwork> all;
    for (const double top : {1 - r, 1.0, 1 + r})
        for (const double bottom : {1 - r, 1.0, 1 + r})
            for (const double farad : {1 - c, 1 + c})
                for (const double rise_v : {limits.rise_v.least, limits.rise_v.most})
                    for (const double fall_v : {limits.fall_v.least, limits.fall_v.most})
                        for (const double clamped_v : {clamp_v.least, clamp_v.most})
                            all.push_back({nominal.top_ohm * top, nominal.bottom_ohm * bottom,
                                           nominal.capacitor_f * farad, clamped_v, rise_v, fall_v});
    return all;
}

double skew(const Range& delays_us) {
    return std::isinf(delays_us.most) ? infinite : delays_us.most - delays_us.least;
}

EdgeFigures edges_at(double line_v, const FrontEnd& front_end, const std::vector<InputNetwork>& all) {
    Span rise;
    Span stiff_fall;
    Span let_go_fall;
    Span width;
    for (const InputNetwork& parts : all) {
        const LowPass lit = low_pass(parts);
        const double lit_v = std::min(lit.gain * line_v, parts.clamp_v);
        const double rise_us =
            parts.clamp_v < parts.rise_v ? infinite : crossing_us(lit, line_v, 0, parts.rise_v);
        const double stiff_us = crossing_us(lit, 0, lit_v, parts.fall_v);
        const double let_go_us = crossing_us(low_pass(parts, front_end.dark_ohm()),
                                             front_end.dark_volts(line_v), lit_v, parts.fall_v);
        rise.add(rise_us);
        if (std::isinf(rise_us) || lit_v <= parts.fall_v) continue; // never lit, so nothing falls
        stiff_fall.add(stiff_us);
        let_go_fall.add(let_go_us);
        width.add(stiff_us - rise_us);
        width.add(let_go_us - rise_us);
    }
    const double sample_us = front_end.sample_us ? static_cast<double>(*front_end.sample_us) : 0;
    EdgeFigures edges;
    edges.line_v = line_v;
    edges.rise_us = {rise.range.least, rise.range.most + sample_us};
    edges.rise_skew_us = skew(edges.rise_us);
    if (stiff_fall.range.most < 0) { // no part ever reads high
        edges.fall_us = edges.width_us = Range{infinite};
        edges.fall_skew_us = infinite;
        return edges;
    }
    edges.fall_us = {std::min(stiff_fall.range.least, let_go_fall.range.least),
                     std::max(stiff_fall.range.most, let_go_fall.range.most) + sample_us};
    edges.width_us = {width.range.least - sample_us, width.range.most + sample_us};
    edges.fall_skew_us = std::max(skew(stiff_fall.range), skew(let_go_fall.range)) + sample_us;
    return edges;
}

/// What keeps the pin from going below ground: the same parts, the other way round.
constexpr double below_ground_v = -0.5;

TransientFigures figures_of(const Transient& transient, const FrontEnd& front_end,
                            const std::vector<InputNetwork>& all) {
    TransientFigures figures;
    figures.transient = transient;
    const bool clamped = *front_end.clamp != ClampKind::none;
    const bool up = transient.line_v > 0;
    for (const InputNetwork& parts : all) {
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
        const double rise_us = crossing_us(lit, transient.line_v, 0, parts.rise_v);
        if (rise_us >= transient.length_us || parts.clamp_v < parts.rise_v) continue;
        const double peak_v = std::min(goal_v * (1 - left), parts.clamp_v);
        const LowPass dark = low_pass(parts, front_end.dark_ohm());
        const double fall_us = peak_v > parts.fall_v ? crossing_us(dark, front_end.dark_volts(most_supply_v),
                                                                   peak_v, parts.fall_v)
                                                     : 0;
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

Leakage leakage_to(double at_v, const InputNetwork& parts, const FrontEnd& front_end) {
    const double line_v = at_v / low_pass(parts).gain;
    const double load =
        (front_end.bleeder_ohm ? 1 / *front_end.bleeder_ohm : 0) + 1 / (parts.top_ohm + parts.bottom_ohm);
    const double onto_line = line_v < most_supply_v
                                 ? line_v * load / (most_supply_v - line_v) - front_end.pull_up_siemens()
                                 : infinite;
    const double source_ohm = parts.top_ohm + front_end.dark_ohm();
    const double from_line_a = (front_end.dark_volts(most_supply_v) - at_v) / source_ohm;
    const double onto_pin =
        at_v < most_supply_v ? (at_v / parts.bottom_ohm - from_line_a) / (most_supply_v - at_v) : infinite;
    return {ohm_of(onto_line), ohm_of(onto_pin)};
}

} // namespace

const std::vector<Transient>& published_transients() {
    // Levels III/IV as the VND5E160J data sheet prints them (read); 13.5 V of supply added to 2a and 3b.
    static const std::vector<Transient> list{
        {"pulse 1", -150, 2'000, "VND5E160J data sheet (read)"},
        {"pulse 2a", 112 + 13.5, 50, "VND5E160J data sheet (read), on 13.5 V"},
        {"pulse 3a", -150, 0.1, "VND5E160J data sheet (read)"},
        {"pulse 3b", 100 + 13.5, 0.1, "VND5E160J data sheet (read), on 13.5 V"},
        {"load dump", 101, 400'000, "VND5E160J data sheet (read), unclamped"},
    };
    return list;
}

std::optional<FrontEndFigures> figures_of(const FrontEnd& front_end) {
    const auto nominal = front_end.nominal();
    if (!nominal) return {};
    const std::vector<InputNetwork> all = corners(front_end, *nominal);
    FrontEndFigures figures;
    figures.certain_low_v = infinite;
    Span gain;
    Span tau_us;
    double load_ohm = 0;
    for (const InputNetwork& parts : all) {
        const LowPass lit = low_pass(parts);
        gain.add(lit.gain);
        tau_us.add(lit.tau_us);
        figures.certain_high_v = std::max(figures.certain_high_v, parts.rise_v / lit.gain);
        figures.certain_low_v = std::min(figures.certain_low_v, parts.fall_v / lit.gain);
        const double dark_ohm = front_end.dark_ohm();
        const double divider_ohm = parts.top_ohm + parts.bottom_ohm;
        load_ohm = std::max(load_ohm, divider_ohm);
        const double source_v = front_end.dark_volts(most_supply_v);
        const double let_go_v = std::isinf(dark_ohm) ? 0 : source_v * divider_ohm / (divider_ohm + dark_ohm);
        figures.dark_line_v = std::max(figures.dark_line_v, let_go_v);
        figures.dark_pin_v = std::max(figures.dark_pin_v, let_go_v * lit.gain);
        const Leakage rise = leakage_to(parts.rise_v, parts, front_end);
        const Leakage stuck = leakage_to(parts.fall_v, parts, front_end);
        figures.false_high_line_ohm = std::max(figures.false_high_line_ohm, rise.line_ohm);
        figures.false_high_pin_ohm = std::max(figures.false_high_pin_ohm, rise.pin_ohm);
        figures.stuck_line_ohm = std::max(figures.stuck_line_ohm, stuck.line_ohm);
        figures.stuck_pin_ohm = std::max(figures.stuck_pin_ohm, stuck.pin_ohm);
    }
    figures.gain = gain.range;
    figures.tau_us = tau_us.range;
    const double low_v = figures.certain_low_v;
    const double needed = low_v < most_supply_v && low_v > 0
                              ? front_end.pull_up_siemens() * (most_supply_v - low_v) / low_v - 1 / load_ohm
                              : 0;
    if (needed > 0) figures.bleeder_needed_ohm = e24_down(1 / needed);
    if (front_end.bleeder_ohm) figures.bleeder_w = most_supply_v * most_supply_v / *front_end.bleeder_ohm;
    for (const double line_v : {6.0, 9.0, 12.0, 14.4, 16.0}) {
        figures.edges.push_back(edges_at(line_v, front_end, all));
        figures.edges.back().margin_v = line_v - figures.certain_high_v;
    }
    for (const Transient& transient : published_transients())
        figures.transients.push_back(figures_of(transient, front_end, all));
    return figures;
}

} // namespace winkhold::bike
