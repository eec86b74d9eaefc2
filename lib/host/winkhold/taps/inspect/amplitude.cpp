#include "winkhold/taps/inspect/amplitude.hpp"

#include "winkhold/base/statistics/detail/median.hpp"

#include <algorithm>

namespace winkhold::taps {
namespace {

constexpr TimeUs from_edge_us = 30'000; // past bounce and a slow lamp's fall
constexpr double step_v = 0.5;
constexpr int steps = 32; // to 16 V: what a charging system may give
constexpr double beyond_any_volts = 1e6;

/// The middle of one light, and how high both lines stood in it.
struct Window {
    std::size_t side;
    TimeUs from_us;
    TimeUs to_us;
    std::array<TimeUs, 2> high_us{};
    std::array<TimeUs, 2> ever_us{}; ///< high at the lowest threshold: all of it, but for a chopped light
    std::array<double, 2> volts{};
};

std::vector<Window> windows_of(const Inspection& seen) {
    std::vector<Window> windows;
    for (const std::size_t side : {0, 1})
        for (const SeenLight& light : seen.lines[side].lights)
            if (light.lit_us() > 2 * from_edge_us)
                windows.push_back({.side = side,
                                   .from_us = light.on_us + from_edge_us,
                                   .to_us = light.off_us - from_edge_us});
    return windows;
}

/// Each side's windows are in order of time; the two sides' are not.
class Reading {
public:
    explicit Reading(std::vector<Window>& windows) {
        for (Window& window : windows) {
            window.high_us = {};
            of_side_[window.side].push_back(&window);
        }
    }
    void stretch(TimeUs from_us, TimeUs to_us, core::Lines lines) {
        for (const std::size_t side : {0, 1}) {
            auto& windows = of_side_[side];
            std::size_t& next = next_[side];
            while (next < windows.size() && windows[next]->to_us <= from_us)
                ++next;
            for (std::size_t i = next; i < windows.size() && windows[i]->from_us < to_us; ++i) {
                const TimeUs us = std::min(to_us, windows[i]->to_us) - std::max(from_us, windows[i]->from_us);
                if (lines.has(core::Side::left)) windows[i]->high_us[0] += us;
                if (lines.has(core::Side::right)) windows[i]->high_us[1] += us;
            }
        }
    }

private:
    std::vector<Window*> of_side_[2];
    std::size_t next_[2]{};
};

/// False if nothing reads high.
bool read(EdgeSource& source, std::vector<Window>& windows) {
    Reading reading(windows);
    Edge edge, before;
    bool any = false;
    while (source.next(edge)) {
        reading.stretch(before.t_us, edge.t_us, before.lines);
        any = any || edge.lines.has(core::Side::left) || edge.lines.has(core::Side::right);
        before = edge;
    }
    reading.stretch(before.t_us, source.end_us(), before.lines);
    return any;
}

double median_or_0(std::vector<double> values) {
    return values.empty() ? 0 : median(std::move(values));
}

} // namespace

std::optional<Amplitudes> measure_amplitudes(const Inspection& seen, const OpenAt& open) {
    std::vector<Window> windows = windows_of(seen);
    if (windows.empty() || read(*open(beyond_any_volts), windows)) return std::nullopt;
    for (int i = 1; i <= steps; ++i) {
        const double volts = step_v * i;
        if (!read(*open(volts), windows)) break;
        for (Window& window : windows)
            for (const std::size_t line : {0, 1}) {
                if (i == 1) window.ever_us[line] = window.high_us[line];
                if (2 * window.high_us[line] > window.ever_us[line]) window.volts[line] = volts;
            }
    }
    constexpr double fed_below = 0.95;
    Amplitudes amplitudes;
    std::vector<double> lit_v[2], ratios;
    for (const Window& window : windows) {
        lit_v[window.side].push_back(window.volts[window.side]);
        const auto [lower, higher] = std::minmax(window.volts[0], window.volts[1]);
        if (window.volts[window.side] == higher && lower > 0 && lower < fed_below * higher)
            ratios.push_back(lower / higher);
    }
    for (const std::size_t side : {0, 1})
        amplitudes.lit_v[side] = median_or_0(std::move(lit_v[side]));
    amplitudes.fed_flashes = static_cast<std::int64_t>(ratios.size());
    amplitudes.fed_ratio = median_or_0(std::move(ratios));
    return amplitudes;
}

} // namespace winkhold::taps
