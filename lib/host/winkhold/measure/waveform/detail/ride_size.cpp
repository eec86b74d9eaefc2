#include "winkhold/measure/waveform/detail/ride_size.hpp"

#include <algorithm>
#include <numeric>

namespace winkhold::measure {
namespace {

constexpr double s = 1e6; // us

struct Length {
    double us{0};
    double flashes{0};
};

Length longest_of(const Scenario& scenario) {
    const FlasherModel& flasher = scenario.flasher;
    double longest_us = 60 * s / flasher.rate_per_min.least;
    double shortest_us = 60 * s / flasher.rate_per_min.most;
    if (!flasher.cycle_us.empty()) {
        const double all_us = std::accumulate(flasher.cycle_us.begin(), flasher.cycle_us.end(), 0.0);
        longest_us = shortest_us = 2 * all_us / static_cast<double>(flasher.cycle_us.size());
    }
    if (flasher.lamp_out_after_flashes > 0) shortest_us /= std::max(1.0, flasher.lamp_out_rate_factor.most);
    Length all;
    for (const RiderStep& step : scenario.rider.script) {
        const double us = step.by_flashes ? (step.flashes.most + 1) * longest_us : step.for_us.most;
        const double flashes = step.by_flashes                      ? step.flashes.most + 1
                               : step.show == core::Indication::off ? 0
                                                                    : us / shortest_us + 1;
        const double lines = step.show == core::Indication::hazard ? 2 : 1;
        all.us += us + std::max(0.0, scenario.rider.transit_us.most);
        all.flashes += flashes * lines;
    }
    const double repeat = scenario.rider.repeat;
    return {all.us * repeat, all.flashes * repeat};
}

/// How often something comes whose pauses are drawn from `every_us`. Without a pause it comes each
/// microsecond.
double times(double us, const Range& every_us) {
    return every_us.zero() ? 0 : us / std::max(1.0, every_us.least);
}

double hum_edges(const TapFaults& taps, const Length& length) {
    double edges = 0;
    for (const BrokenTap& tap : taps.broken)
        edges += length.us / s * tap.hum_hz.most * 2;
    return edges;
}

double disturbed_edges(const TapFaults& taps, const Length& length) {
    double edges = 0;
    for (const Disturbance& one : taps.disturbances)
        edges += length.flashes * one.times * 2 * (1 + one.for_us.most / s * one.hz.most);
    return edges;
}

} // namespace

RideSize size_of(const Scenario& scenario) {
    const Length length = longest_of(scenario);
    const TapFaults& taps = scenario.taps;
    const LineVolts& volts = scenario.volts;
    const double bounce = scenario.contacts.bounce_us > 0 ? 4.0 * scenario.contacts.bounce_pulses : 0;
    const std::pair<const char*, double> parts[] = {
        {"rider.repeat", length.flashes * (2 + bounce)},
        {"lines.chatter_every",
         times(length.us, taps.chatter_every_us) * 2 *
             (1 + std::min(taps.chatter_for_us.most, length.us) / s * taps.chatter_hz.most * 2)},
        {"lines.broken", hum_edges(taps, length)},
        {"lines.breaks", disturbed_edges(taps, length)},
        {"lines.half_wave_hz", length.us / s * taps.half_wave_hz.most * 4},
        {"lines.pwm_hz", length.us / s * taps.pwm_hz.most * 4},
        {"lines.running_hz", length.us / s * taps.running_hz.most * 4},
        {"lines.test_pulse_every", times(length.us, taps.test_pulse_every_us) * 4},
        {"volts.dip_every", times(length.us, volts.dip_every_us) * 4},
        {"volts.spikes_per_s", length.us / s * volts.spikes_per_s.most * 4},
    };
    RideSize size;
    double most = -1;
    for (const auto& [field, edges] : parts) {
        size.edges += edges;
        if (edges > most) {
            most = edges;
            size.field = field;
        }
    }
    return size;
}

} // namespace winkhold::measure
