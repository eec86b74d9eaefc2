#include "winkhold/taps/hindsight/lights.hpp"

#include <algorithm>

namespace winkhold::taps {

void LightCollector::keep(const SettledEdgeAt& settled) {
    std::vector<Light>& lights = lights_[static_cast<std::size_t>(settled.side)];
    if (settled.rise) {
        lights.push_back({settled.t_us - settings_.settle_us, never_us});
        check_flashes(lights.size());
    } else {
        lights.back().off_us = settled.last_high_us;
    }
}

void LightCollector::let_stuck_go(Lights& lights) {
    for (const std::size_t side : {0, 1}) {
        auto rival = lights[1 - side].begin();
        for (Light& light : lights[side]) {
            const TimeUs stuck_from_us = light.on_us + core::built_in::longest_gap_us;
            if (light.off_us <= stuck_from_us) continue;
            rival = std::find_if(rival, lights[1 - side].end(),
                                 [=](const Light& other) { return other.on_us >= stuck_from_us; });
            if (rival != lights[1 - side].end()) light.off_us = std::min(light.off_us, rival->on_us);
        }
    }
}

LightCollector::Lights LightCollector::joined(Lights lights, TimeUs skew_us) {
    std::size_t next[2]{0, 0};
    while (next[0] < lights[0].size() && next[1] < lights[1].size()) {
        Light* const light[2]{&lights[0][next[0]], &lights[1][next[1]]};
        const bool overlap = light[0]->on_us < light[1]->off_us && light[1]->on_us < light[0]->off_us;
        const std::size_t later = light[0]->on_us < light[1]->on_us ? 1 : 0;
        const TimeUs on_us = light[1 - later]->on_us;
        if (overlap && light[later]->on_us - on_us <= skew_us) {
            // neither into the side's light before, nor into the one after
            const bool dark_before = next[later] == 0 || (light[later] - 1)->off_us < on_us;
            if (dark_before) light[later]->on_us = on_us;
            const std::size_t sooner = light[0]->off_us < light[1]->off_us ? 0 : 1;
            const TimeUs off_us = light[1 - sooner]->off_us;
            const bool dark_after =
                next[sooner] + 1 == lights[sooner].size() || off_us < (light[sooner] + 1)->on_us;
            if (dark_after && off_us - light[sooner]->off_us <= skew_us) light[sooner]->off_us = off_us;
        }
        ++next[light[0]->off_us <= light[1]->off_us ? 0 : 1];
    }
    return lights;
}

std::vector<LightStep> LightCollector::steps(TimeUs skew_us) const {
    Lights lights = joined(lights_, skew_us);
    let_stuck_go(lights);
    std::vector<LightStep> steps;
    steps.reserve(2 * (lights[0].size() + lights[1].size()));
    std::size_t next[2]{0, 0};
    bool lit[2]{false, false};
    const auto due_us = [&](std::size_t side) {
        if (next[side] == lights[side].size()) return never_us;
        const Light& light = lights[side][next[side]];
        return lit[side] ? light.off_us : light.on_us;
    };
    for (TimeUs t_us = 0; (t_us = std::min(due_us(0), due_us(1))) < never_us;) {
        LightStep step{.t_us = t_us, .lit = steps.empty() ? std::uint8_t{0} : steps.back().lit};
        for (const std::size_t side : {0, 1}) {
            if (due_us(side) != t_us) continue;
            const auto bit = static_cast<std::uint8_t>(1 << side);
            const std::vector<Light>& own = lights[side];
            std::size_t& i = next[side];
            if (lit[side]) {
                step.falls |= bit;
                step.lasted_us[side] = t_us - own[i].on_us;
                ++i;
            } else {
                step.rises |= bit;
                if (i > 0) step.lasted_us[side] = t_us - own[i - 1].off_us;
            }
            lit[side] = !lit[side];
            step.lit ^= bit;
        }
        steps.push_back(step);
    }
    return steps;
}

TimeUs gaps_known_from_us(const std::vector<LightStep>& steps) {
    constexpr int usual_known = 4;
    constexpr int fast_known = 31;
    int usual = 0;
    int fast = 0;
    TimeUs rose_us[2]{0, 0};
    for (const LightStep& step : steps)
        for (const std::size_t side : {0, 1}) {
            if ((step.rises >> side & 1) == 0) continue;
            const TimeUs period_us = step.t_us - rose_us[side];
            rose_us[side] = step.t_us;
            if (step.lasted_us[side] > core::built_in::longest_gap_us) continue; // no gap, or the first light
            const bool is_fast = period_us < TimeUs{core::built_in::fast_period_us};
            fast = is_fast ? fast + 1 : 0;
            usual += is_fast ? 0 : 1;
            if (usual >= usual_known || fast >= fast_known) return step.t_us + core::built_in::blink_us;
        }
    return never_us;
}

} // namespace winkhold::taps
