#include "winkhold/taps/inspect/detail/mend.hpp"

#include "winkhold/core/cadence.hpp"

#include <algorithm>

namespace winkhold::taps {
namespace {

using Lights = std::vector<SeenLight>;

/// Nearest rank; 0 if there is none.
TimeUs quantile_us(std::vector<TimeUs> lengths_us, double share) {
    if (lengths_us.empty()) return 0;
    const auto at =
        lengths_us.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(lengths_us.size() - 1));
    std::nth_element(lengths_us.begin(), at, lengths_us.end());
    return *at;
}

std::vector<TimeUs> gaps_us(const Lights& lights) {
    std::vector<TimeUs> gaps;
    for (std::size_t i = 1; i < lights.size(); ++i)
        if (const TimeUs gap_us = lights[i].on_us - lights[i - 1].last_high_us;
            gap_us <= core::built_in::longest_gap_us)
            gaps.push_back(gap_us);
    return gaps;
}

std::vector<TimeUs> lit_us(const Lights& lights) {
    std::vector<TimeUs> lit;
    for (const SeenLight& light : lights)
        if (light.whole()) lit.push_back(light.lit_us());
    return lit;
}

/// Where most levels are longer: one that is as short is none of the flasher's.
TimeUs limit_us(std::vector<TimeUs> lengths_us) {
    return std::min(short_level_us, quantile_us(std::move(lengths_us), 0.9) / 2);
}

/// The rise of the first, the fall of the second one.
void join(SeenLight& light, SeenLight&& next) {
    light.off_us = next.off_us;
    light.last_high_us = next.last_high_us;
    light.to_end = next.to_end;
    light.fall_changes = next.fall_changes;
    light.fall_high_us = next.fall_high_us;
    light.mended = true;
}

/// A relay that strikes twice lights for a moment ahead of nearly each light.
void take_strikes_in(Lights& lights) {
    const auto struck = [](const SeenLight& light) {
        return light.after_pulse_us > 0 && light.after_pulse_us - light.pulse_lit_us < short_level_us;
    };
    const bool strikes_twice = 2 * std::count_if(lights.begin(), lights.end(), struck) > std::ssize(lights);
    for (SeenLight& light : lights)
        if (!struck(light))
            continue;
        else if (strikes_twice)
            light.on_us -= light.after_pulse_us;
        else
            light.mended = true;
}

void join_short_gaps(Lights& lights, Mended& mended) {
    const TimeUs limit = limit_us(gaps_us(lights));
    Lights joined;
    for (SeenLight& light : lights)
        if (!joined.empty() && light.on_us - joined.back().last_high_us < limit) {
            mended.breaks_us.push_back(joined.back().last_high_us);
            join(joined.back(), std::move(light));
        } else {
            joined.push_back(std::move(light));
        }
    lights = std::move(joined);
}

/// Pieces that are one usual light together.
void join_pieces(Lights& lights) {
    const TimeUs usual_us = quantile_us(lit_us(lights), 0.75);
    const TimeUs longest_gap_us = quantile_us(gaps_us(lights), 0.75) / 2;
    Lights joined;
    for (std::size_t i = 0; i < lights.size(); ++i) {
        std::size_t end = i + 1; // of the pieces
        std::size_t next = end;
        for (; next < lights.size() && lights[next].on_us - lights[next - 1].last_high_us < longest_gap_us;
             ++next) {
            const TimeUs lasts_us = lights[next].off_us - lights[i].on_us;
            if (10 * lasts_us > 11 * usual_us) break;
            if (10 * lasts_us >= 8 * usual_us) end = next + 1;
        }
        joined.push_back(std::move(lights[i]));
        for (; i + 1 < end; ++i)
            join(joined.back(), std::move(lights[i + 1]));
    }
    lights = std::move(joined);
}

void take_pulses_out(Lights& lights, Mended& mended) {
    const TimeUs limit = limit_us(lit_us(lights));
    bool beside_pulse = false;
    for (SeenLight& light : lights) {
        const bool is_pulse = light.whole() && light.lit_us() < limit;
        if (is_pulse && !mended.lights.empty() &&
            light.on_us - mended.lights.back().last_high_us < short_level_us)
            mended.lights.back().mended = true;
        if (!is_pulse && beside_pulse && light.on_us - mended.pulses.back().last_high_us < short_level_us)
            light.mended = true;
        beside_pulse = is_pulse;
        (is_pulse ? mended.pulses : mended.lights).push_back(std::move(light));
    }
}

void doubt_odd_edges(Lights& lights) {
    std::vector<TimeUs> rises_us, falls_us;
    for (const SeenLight& light : lights) {
        rises_us.push_back(light.rise_settles_us());
        falls_us.push_back(light.fall_settles_us());
    }
    const auto longest_us = [](std::vector<TimeUs>& settles_us) {
        return 2 * quantile_us(std::move(settles_us), 0.8) + 3'000;
    };
    const TimeUs rise_us = longest_us(rises_us);
    const TimeUs fall_us = longest_us(falls_us);
    for (SeenLight& light : lights)
        if (light.rise_settles_us() > rise_us || light.fall_settles_us() > fall_us) light.mended = true;
}

} // namespace

Mended mend(std::vector<SeenLight> lights, bool chopped) {
    Mended mended;
    if (chopped)
        for (SeenLight& light : lights)
            light.mended = false;
    else
        take_strikes_in(lights);
    join_short_gaps(lights, mended);
    join_pieces(lights);
    take_pulses_out(lights, mended);
    if (!chopped) doubt_odd_edges(mended.lights);
    return mended;
}

} // namespace winkhold::taps
