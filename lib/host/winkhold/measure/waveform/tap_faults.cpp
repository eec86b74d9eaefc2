#include "winkhold/measure/waveform/detail/tap_faults_draw.hpp"

#include "winkhold/measure/waveform/detail/draw.hpp"
#include "winkhold/measure/waveform/detail/levels.hpp"

namespace winkhold::measure {
namespace {

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

Levels hum(const BrokenTap& tap, TimeUs end_us, RandomStream& random) {
    Levels pulses;
    for (TimeUs t_us = draw_us(tap.hum_every_us, random); t_us < end_us;
         t_us += std::max<TimeUs>(1, draw_us(tap.hum_every_us, random))) {
        const TimeUs until_us = std::min(end_us, t_us + draw_us(tap.hum_for_us, random));
        const double period_us = 1e6 / draw(tap.hum_hz, random);
        const double high_us = period_us * draw(tap.hum_percent, random) / 100;
        for (auto at_us = static_cast<double>(t_us); at_us < static_cast<double>(until_us);
             at_us += period_us)
            pulse(pulses, static_cast<TimeUs>(at_us),
                  std::min(until_us, static_cast<TimeUs>(at_us + high_us)));
        t_us = until_us;
    }
    return pulses;
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
    const double half_wave_hz = draw(faults.half_wave_hz, random);
    const Levels half_waves = half_wave_hz > 0 ? square_wave(half_wave_hz, 50, end_us, random) : Levels{};
    for (Levels& tap : taps) {
        if (!faults.chatter_every_us.zero()) tap = merged(tap, chatter(faults, end_us, random), cut_out);
        if (pwm_hz > 0 && pwm_percent < 100) {
            const Levels lit = square_wave(pwm_hz, pwm_percent, end_us, random);
            tap = merged(tap, lit, only_in);
        }
        if (half_wave_hz > 0) tap = merged(tap, half_waves, only_in);
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
        if (!broken.hum_hz.zero())
            tap = merged(tap, merged(span, hum(broken, end_us, random), only_in), put_in);
    }
}

} // namespace winkhold::measure
