#include "winkhold/measure/waveform/detail/supply.hpp"

#include <algorithm>

namespace winkhold::measure {
namespace {

/// A weak battery turns the starter: the first compression, then turning over. Shaped like published
/// starting profiles (from memory).
constexpr SupplyStep crank_profile[] = {{0, 3.0}, {60'000, 6.5}};
constexpr double crank_ends_us = 1'060'000;

} // namespace

TimeUs draw_key_off_us(const LineVolts& model, RandomStream& random) {
    return draw_us(model.key_off_at_us, random);
}

std::vector<SupplyStep> draw_supply(const LineVolts& model, TimeUs key_off_us, TimeUs end_us,
                                    RandomStream& random) {
    const double normal_v = draw(model.supply_v, random);
    std::vector<SupplyStep> steps{{0, normal_v}};
    if (!model.dip_every_us.zero())
        for (double t_us = draw(model.dip_every_us, random); t_us < static_cast<double>(end_us);
             t_us += std::max(1.0, draw(model.dip_every_us, random))) {
            steps.push_back({t_us, draw(model.dip_v, random)});
            t_us += draw(model.dip_us, random);
            steps.push_back({t_us, normal_v});
        }
    if (const double crank_us = draw(model.crank_at_us, random); crank_us > 0) {
        std::erase_if(steps, [&](const SupplyStep& step) { return step.t_us >= crank_us; });
        for (const SupplyStep& step : crank_profile)
            steps.push_back({crank_us + step.t_us, step.volts});
        steps.push_back({crank_us + crank_ends_us, normal_v});
    }
    if (key_off_us > 0) {
        const double gone_us =
            static_cast<double>(key_off_us) + random.unit() * static_cast<double>(model.key_off_spread_us);
        std::erase_if(steps, [&](const SupplyStep& step) { return step.t_us >= gone_us; });
        steps.push_back({gone_us, 0});
    }
    return steps;
}

} // namespace winkhold::measure
