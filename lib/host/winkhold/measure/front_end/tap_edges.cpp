#include "winkhold/measure/front_end/tap_edges.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::measure {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

/// Grows to hold every value it is given.
struct Span {
    Range range{infinite, -infinite};

    void add(double value) {
        range.least = std::min(range.least, value);
        range.most = std::max(range.most, value);
    }
    bool empty() const { return range.most < range.least; }
    double width() const {
        if (empty()) return 0;
        return std::isinf(range.most) ? infinite : range.most - range.least;
    }
};

/// Whatever holds the line while it is dark: ground behind a lamp, or what the tap itself brings.
struct Edges {
    Span rise;
    Span fall;
};

Range both(const Span& a, const Span& b) {
    return {std::min(a.range.least, b.range.least), std::max(a.range.most, b.range.most)};
}

} // namespace

std::vector<Corner> corners(const FrontEnd& front_end, TappedLine line) {
    const InputNetwork nominal = front_end.nominal().value();
    const Thresholds limits = front_end.thresholds().value();
    const Range clamp_v = front_end.clamp_volts().value();
    const FrontEnd::LetGo let_go = front_end.let_go(line);
    const double r = front_end.resistor_percent / 100;
    const double c = front_end.capacitor_percent / 100;
    std::vector<FrontEnd::LetGo> holders;
    for (const double bleeder : {1 - r, 1 + r})
        for (const double pull_up : {1 - r, 1 + r})
            holders.push_back({let_go.bleeder_siemens / bleeder, let_go.pull_up_siemens / pull_up});
    std::vector<Corner> all;
    for (const double top : {1 - r, 1.0, 1 + r})
        for (const double bottom : {1 - r, 1.0, 1 + r})
            for (const double farad : {1 - c, 1 + c})
                for (const double rise_v : {limits.rise_v.least, limits.rise_v.most})
                    for (const double fall_v : {limits.fall_v.least, limits.fall_v.most})
                        for (const double clamped_v : {clamp_v.least, clamp_v.most})
                            for (const FrontEnd::LetGo& holder : holders)
                                all.push_back({{nominal.top_ohm * top, nominal.bottom_ohm * bottom,
                                                nominal.capacitor_f * farad, clamped_v, rise_v, fall_v},
                                               holder});
    return all;
}

EdgeFigures edges_at(double line_v, const FrontEnd& front_end, TappedLine line) {
    Edges held;
    Edges let_go;
    Span width;
    double certain_high_v = 0;
    for (const auto& [parts, holder] : corners(front_end, line)) {
        const LowPass lit = low_pass(parts);
        certain_high_v = std::max(certain_high_v, parts.rise_v / lit.gain);
        const double lit_v = std::min(lit.gain * line_v, parts.clamp_v);
        const auto edge = [&](Edges& edges, const LowPass& dark, double dark_line_v) {
            const double dark_v = dark.gain * dark_line_v;
            // a ghost above the threshold reads high all along
            const double rise_us = parts.clamp_v < parts.rise_v ? infinite
                                   : dark_v >= parts.rise_v     ? 0
                                                            : crossing_us(lit, line_v, dark_v, parts.rise_v);
            edges.rise.add(rise_us);
            if (std::isinf(rise_us) || lit_v <= parts.fall_v) return; // never high, so nothing falls
            const double fall_us = crossing_us(dark, dark_line_v, lit_v, parts.fall_v);
            edges.fall.add(fall_us);
            width.add(fall_us - rise_us);
        };
        edge(held, lit, 0);
        if (!front_end.is_active_low(line)) edge(let_go, low_pass(parts, holder.ohm()), holder.volts(line_v));
    }
    const double sample_us = front_end.sample_us ? static_cast<double>(*front_end.sample_us) : 0;
    EdgeFigures edges;
    edges.line_v = line_v;
    edges.margin_v = line_v - certain_high_v;
    edges.rise_us = both(held.rise, let_go.rise);
    edges.rise_us.most += sample_us;
    edges.rise_skew_us = std::max(held.rise.width(), let_go.rise.width()) + sample_us;
    if (width.empty()) { // no part ever reads high
        edges.fall_us = edges.width_us = Range{infinite};
        edges.fall_skew_us = infinite;
        return edges;
    }
    edges.fall_us = both(held.fall, let_go.fall);
    edges.fall_us.most += sample_us;
    edges.width_us = {width.range.least - sample_us, width.range.most + sample_us};
    edges.fall_skew_us = std::max(held.fall.width(), let_go.fall.width()) + sample_us;
    return edges;
}

std::optional<Range> lit_after_us(const FrontEnd& front_end, TappedLine line) {
    if (!front_end.nominal()) return {};
    Span span;
    for (const double line_v : {9.0, 16.0}) {
        const EdgeFigures edges = edges_at(line_v, front_end, line);
        const Range& lit_us = edges.lit_us(front_end.is_active_low(line));
        span.add(lit_us.least);
        span.add(lit_us.most);
    }
    return span.range;
}

std::vector<std::string> fields_of_levels(const FrontEnd& front_end) {
    std::vector<std::string> fields{"front_end.top_kohm", "front_end.bottom_kohm",
                                    "front_end.resistor_percent", "front_end.input"};
    const auto add = [&](std::initializer_list<const char*> keys) {
        for (const char* key : keys)
            fields.push_back(std::string("front_end.") + key);
    };
    const bool is_adc = front_end.input == InputKind::adc;
    const bool by_hand = front_end.rise_v && front_end.fall_v && !is_adc;
    if (is_adc) add({"on_above", "off_below", "adc_bits", "adc_error_lsb"});
    if (by_hand)
        add({"rise_v", "fall_v"});
    else
        add({"pin_v", "pin_v_percent"});
    if (!is_adc && !by_hand) add({"part"});
    return fields;
}

std::vector<std::string> fields_of_edges(const FrontEnd& front_end, TappedLine line) {
    std::vector<std::string> fields = fields_of_levels(front_end);
    const auto add = [&](std::initializer_list<const char*> keys) {
        for (const char* key : keys)
            fields.push_back(std::string("front_end.") + key);
    };
    add({"capacitor_nf", "capacitor_percent", "clamp", "sample"});
    if (front_end.clamp == ClampKind::zener) add({"zener_v"});
    if (front_end.clamp == ClampKind::schottky || front_end.clamp == ClampKind::pin_diodes)
        add({"pin_v", "pin_v_percent"});
    if (line == TappedLine::left || line == TappedLine::right) add({"pull_up_kohm"});
    if (line == TappedLine::supply) return fields;
    std::string active = fmt::format("front_end.active_{}", name(line));
    std::replace(active.begin(), active.end(), ' ', '_');
    fields.push_back(active);
    return fields;
}

} // namespace winkhold::measure
