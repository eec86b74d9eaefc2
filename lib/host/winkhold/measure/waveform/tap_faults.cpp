#include "winkhold/measure/waveform/detail/tap_faults_draw.hpp"

#include "winkhold/measure/waveform/detail/draw.hpp"

#include <algorithm>

namespace winkhold::measure {
namespace {

using Levels = std::vector<LevelChange>;

/// Pulses in order of time, as changes from low.
void pulse(Levels& out, TimeUs on_us, TimeUs off_us) {
    if (!out.empty()) on_us = std::max(on_us, out.back().t_us + 1);
    if (on_us >= off_us) return;
    out.push_back({on_us, true});
    out.push_back({off_us, false});
}

/// Both lists merged: the level is combine(a's, b's).
template <class Combine>
Levels merged(const Levels& a, const Levels& b, Combine&& combine) {
    Levels out;
    out.reserve(a.size() + b.size());
    bool a_high = false;
    bool b_high = false;
    bool high = false;
    for (std::size_t i = 0, k = 0; i < a.size() || k < b.size();) {
        const TimeUs t_us =
            std::min(i < a.size() ? a[i].t_us : never_us, k < b.size() ? b[k].t_us : never_us);
        while (i < a.size() && a[i].t_us == t_us)
            a_high = a[i++].high;
        while (k < b.size() && b[k].t_us == t_us)
            b_high = b[k++].high;
        if (combine(a_high, b_high) == high) continue;
        high = !high;
        out.push_back({t_us, high});
    }
    return out;
}

constexpr auto cut_out = [](bool level, bool pulse) { return level && !pulse; };
constexpr auto put_in = [](bool level, bool pulse) { return level || pulse; };

Levels chatter(const TapFaults& faults, TimeUs end_us, RandomStream& random) {
    Levels gaps;
    for (TimeUs t_us = draw_us(faults.chatter_every_us, random); t_us < end_us;
         t_us += std::max<TimeUs>(1, draw_us(faults.chatter_every_us, random))) {
        const TimeUs until_us = t_us + draw_us(faults.chatter_for_us, random);
        const double period_us = 1e6 / draw(faults.chatter_hz, random);
        for (double at_us = static_cast<double>(t_us); at_us < static_cast<double>(until_us);
             at_us += period_us)
            pulse(gaps, static_cast<TimeUs>(at_us),
                  std::min(until_us, static_cast<TimeUs>(at_us + period_us / 2)));
        t_us = until_us;
    }
    return gaps;
}

/// `percent` of each period, from a random point of the first one on.
Levels square_wave(double hz, double percent, TimeUs end_us, RandomStream& random) {
    Levels wave;
    const double period_us = 1e6 / hz;
    const double width_us = period_us * percent / 100;
    for (double at_us = -random.unit() * period_us; at_us < static_cast<double>(end_us); at_us += period_us)
        pulse(wave, std::max<TimeUs>(0, static_cast<TimeUs>(at_us)), static_cast<TimeUs>(at_us + width_us));
    return wave;
}

Levels test_pulses(const TapFaults& faults, TimeUs end_us, RandomStream& random) {
    Levels pulses;
    for (TimeUs t_us = draw_us(faults.test_pulse_every_us, random); t_us < end_us;
         t_us += std::max<TimeUs>(1, draw_us(faults.test_pulse_every_us, random)))
        pulse(pulses, t_us, t_us + draw_us(faults.test_pulse_us, random));
    return pulses;
}

} // namespace

void spoil_taps(const TapFaults& faults, TimeUs end_us, RandomStream& random,
                std::vector<LevelChange> (&taps)[2]) {
    const double pwm_hz = draw(faults.pwm_hz, random);
    const double pwm_percent = draw(faults.pwm_percent, random);
    const double running_hz = draw(faults.running_hz, random);
    const double running_percent = draw(faults.running_percent, random);
    for (Levels& tap : taps) {
        if (!faults.chatter_every_us.zero()) tap = merged(tap, chatter(faults, end_us, random), cut_out);
        if (pwm_hz > 0 && pwm_percent < 100) {
            const Levels lit = square_wave(pwm_hz, pwm_percent, end_us, random);
            tap = merged(tap, lit, [](bool level, bool lit_now) { return level && lit_now; });
        }
        if (running_hz > 0)
            tap = merged(tap, square_wave(running_hz, running_percent, end_us, random), put_in);
        if (!faults.test_pulse_every_us.zero())
            tap = merged(tap, test_pulses(faults, end_us, random), put_in);
    }
    for (const BrokenTap& broken : faults.broken) {
        Levels& tap = taps[static_cast<std::size_t>(broken.tap)];
        Levels span;
        const TimeUs from_us = draw_us(broken.from_us, random);
        pulse(span, from_us, from_us + draw_us(broken.for_us, random));
        std::erase_if(span, [&](const LevelChange& change) { return change.t_us > end_us; });
        tap = broken.high ? merged(tap, span, put_in) : merged(tap, span, cut_out);
    }
}

} // namespace winkhold::measure
