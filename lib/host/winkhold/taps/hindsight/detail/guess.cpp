#include "winkhold/taps/hindsight/rhythm.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::taps {
namespace {

/// A light and the gap after it, within a rhythm.
struct Cycle {
    TimeUs on_us;
    TimeUs gap_us;

    TimeUs dark_us() const { return gap_us; }
    TimeUs period_us() const { return on_us + gap_us; }
};

std::vector<Cycle> find_cycles(std::span<const LightStep> steps, std::size_t side) {
    const auto bit = static_cast<std::uint8_t>(1 << side);
    std::vector<Cycle> cycles;
    TimeUs on_us = 0;
    for (const LightStep& step : steps) {
        if ((step.falls & bit) != 0) on_us = step.lasted_us[side];
        if ((step.rises & bit) != 0 && step.lasted_us[side] < core::built_in::longest_gap_us)
            cycles.push_back({on_us, step.lasted_us[side]});
    }
    return cycles;
}

double lower_median(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>((values.size() - 1) / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

PhaseLength robust(std::span<const Cycle> cycles, TimeUs Cycle::*member) {
    std::vector<double> values;
    for (const Cycle& cycle : cycles)
        values.push_back(static_cast<double>(cycle.*member));
    const double median_us = lower_median(values);
    for (double& value : values)
        value = std::abs(value - median_us);
    return {median_us, std::max(1.4826 * lower_median(values), 0.05 * median_us)};
}

Rhythm robust(std::span<const Cycle> cycles) {
    return {robust(cycles, &Cycle::on_us), robust(cycles, &Cycle::gap_us)};
}

using Length = TimeUs (Cycle::*)() const;

/// Where two groups of cycles part, with at least four in each and a factor of 1.2 between.
struct Parting {
    double factor{1.2};
    std::size_t at{0}; ///< 0: they don't part
};

/// Leaves the cycles sorted by that length.
Parting parting(std::vector<Cycle>& cycles, Length length) {
    constexpr std::size_t least = 4;
    std::sort(cycles.begin(), cycles.end(),
              [length](const Cycle& a, const Cycle& b) { return (a.*length)() < (b.*length)(); });
    Parting widest;
    for (std::size_t i = least; i + least <= cycles.size(); ++i) {
        const double factor =
            static_cast<double>((cycles[i].*length)()) / static_cast<double>((cycles[i - 1].*length)());
        if (factor >= widest.factor) widest = {factor, i};
    }
    return widest;
}

/// The longer rhythm is the shorter one with a flash left out.
bool is_missing_flash(const Rhythm& shorter, const Rhythm& longer) {
    const double expected_us = 2 * shorter.dark.centre_us + shorter.on.centre_us;
    return std::abs(longer.dark.centre_us - expected_us) < 0.15 * expected_us;
}

} // namespace

Rhythms guess_rhythms(std::span<const LightStep> steps) {
    const Rhythm usual{{353e3, 106e3}, {353e3, 106e3}}; // 85/min, 50 %, each give or take 30 %
    Rhythms rhythms{.of = {{{usual, usual}, {usual, usual}}}};
    for (const std::size_t side : {0, 1}) {
        std::vector<Cycle> cycles = find_cycles(steps, side);
        if (cycles.empty()) continue;
        rhythms.gap_seen[side] = true;
        // by their gaps (the duty changes), or else by their periods (a lamp fails)
        Parting part = parting(cycles, &Cycle::dark_us);
        if (part.at == 0) part = parting(cycles, &Cycle::period_us);
        const std::span<const Cycle> all(cycles);
        if (part.at == 0) {
            rhythms.of[side].fill(robust(all));
            continue;
        }
        const Rhythm shorter = robust(all.first(part.at));
        const Rhythm longer = robust(all.subspan(part.at));
        if (is_missing_flash(shorter, longer)) {
            rhythms.of[side].fill(shorter);
            continue;
        }
        rhythms.two = true;
        rhythms.of[side] = {longer, shorter};
    }
    for (const std::size_t side : {0, 1})
        if (!rhythms.gap_seen[side] && rhythms.gap_seen[1 - side]) rhythms.of[side] = rhythms.of[1 - side];
    return rhythms;
}

} // namespace winkhold::taps
