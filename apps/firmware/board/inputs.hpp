/// The taps: one is looked at with each tick, in turn.
#pragma once

#include "bike.hpp"
#include "clock.hpp"
#include "pins.hpp"

#include <avr/io.h>

namespace winkhold {
namespace firmware {

constexpr uint8_t tap_count = sizeof(bike::taps) / sizeof(bike::taps[0]);
/// From one look at a tap to the next: at least 5, which leaves the main loop time for a step of the core
/// between any two changes of a line.
constexpr uint8_t ticks_per_sample = tap_count > 5 ? tap_count : 5;
constexpr uint16_t sample_us = ticks_per_sample * tick_us;
static_assert(sample_us <= 1000, "each tap is looked at every millisecond");

/// How long ago, by the tick that takes a tap in, its line changed, if it did: half way between the last two
/// looks at it is the best guess. Dated earlier, lamps would come sooner, but pulses of a settle less a
/// sample would pass for light.
constexpr uint16_t change_age_us(const Tap& tap) {
    return sample_us / 2 + (tap.analog() ? tick_us : 0);
}

/// Raw levels of taps, a bit each, at which all of them are dark.
constexpr uint8_t dark_levels() {
    uint8_t levels = 0;
    for (uint8_t i = 0; i < tap_count; ++i)
        if (!bike::taps[i].lit_high) levels = static_cast<uint8_t>(levels | 1u << i);
    return levels;
}

/// tick() belongs to the interrupt. A conversion is started with one tick and read with the next: 13 clocks
/// of 125 kHz are 104 us (data sheet, read).
class Inputs {
public:
    void start() {
        ADCSRA = _BV(ADEN) | _BV(ADPS2) | _BV(ADPS1) | _BV(ADPS0);
        turn_ = 0;
        bit_ = 1;
        begin(bike::taps[0]);
    }
    /// Nothing is looked at, and no current flows, until start(). Waits for a conversion to end.
    void stop() {
        while ((ADCSRA & _BV(ADSC)) != 0) {
        }
        ADCSRA = 0;
    }

    /// Takes in one tap and begins with the next one. True if a line is another now. A conversion that isn't
    /// ready (the first one takes 200 us) is taken in with a later tick.
    bool tick() {
        if ((ADCSRA & _BV(ADSC)) != 0) return false;
        const bool changed = turn_ < tap_count && finish(bike::taps[turn_]);
        turn_ = static_cast<uint8_t>(turn_ + 1);
        bit_ = static_cast<uint8_t>(bit_ << 1);
        if (turn_ == ticks_per_sample) {
            turn_ = 0;
            bit_ = 1;
            rounds_ = static_cast<uint8_t>(rounds_ + 1);
        }
        if (turn_ < tap_count) begin(bike::taps[turn_]);
        return changed;
    }

    /// As last seen: a line is lit while one of its taps is.
    core::Lines lines() const { return lines_; }
    /// When the last change came, by the tick that took it in. In order of time, whatever the taps are.
    core::Micros changed_at(core::Micros now) const {
        return core::Micros{static_cast<uint32_t>(now.count_us - age_us_)};
    }
    /// Goes up by one with each look at all taps.
    uint8_t rounds() const { return rounds_; }

private:
    static void begin(const Tap& tap) {
        if (!tap.analog()) return;
        ADMUX = static_cast<uint8_t>(_BV(REFS0) | (number_of(tap.pin) & 7u));
        ADCSRA = static_cast<uint8_t>(ADCSRA | _BV(ADSC));
    }

    bool finish(const Tap& tap) {
        const bool was_high = (levels_ & bit_) != 0;
        bool high = was_high;
        if (tap.analog()) {
            const uint16_t count = ADC;
            high = count >= tap.high_count || (was_high && count > tap.low_count);
        } else {
            high = reads_high(tap.pin);
        }
        if (high == was_high) return false;
        levels_ ^= bit_;
        age_us_ = change_age_us(tap);
        constexpr uint8_t dark = dark_levels();
        uint8_t lit = levels_ ^ dark;
        uint8_t lines = 0;
        for (const Tap& each : bike::taps) {
            if ((lit & 1) != 0) lines |= each.line;
            lit >>= 1;
        }
        lines_ = core::Lines(lines);
        return true;
    }

    core::Lines lines_;
    uint16_t age_us_{0};
    uint8_t turn_{0};
    uint8_t bit_{1}; ///< of the tap whose turn it is
    uint8_t levels_{dark_levels()};
    uint8_t rounds_{0};
};

} // namespace firmware
} // namespace winkhold
