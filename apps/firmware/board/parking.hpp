/// A parked bike: all taps have been dark for long. Its lamps are dark then, and the chip sleeps.
#pragma once

#include "bike.hpp"
#include "guard.hpp"
#include "inputs.hpp"

namespace winkhold {
namespace firmware {

/// What wakes it: a pin that changes, at once (1 ms until the crystal swings, data sheet, from memory), or
/// the watchdog's timer, each 125 ms, for a look at all taps. A digital tap always does the first. An analog
/// one may stand between the levels that a digital input tells apart for certain (0.3 and 0.6 of the supply,
/// read), and the ADC sleeps as well: then the next look sees it.
class Parking {
public:
    /// After each round of looks at the taps. True if this one parks the bike: its lamps are to be dark.
    bool after_round(core::Lines lines) {
        if (lines != core::Lines{}) dark_rounds_ = 0;
        if (parked_ || dark_rounds_ == enough_rounds || ++dark_rounds_ != enough_rounds) return false;
        parked_ = enough_rounds != 0;
        return parked_;
    }
    /// True if a line has ended it: lamps are to be shown again.
    bool ended(core::Lines lines) {
        if (!parked_ || lines == core::Lines{}) return false;
        parked_ = false;
        dark_rounds_ = 0;
        return true;
    }
    bool parked() const { return parked_; }

    /// Interrupts off before and after. The clock stands still meanwhile: with all dark for so long, no stage
    /// of the core is waiting for anything.
    void sleep(Inputs& inputs) {
        inputs.stop();
        for (const Tap& tap : bike::taps)
            change_mask(tap.pin) = static_cast<uint8_t>(change_mask(tap.pin) | bit_of(tap.pin));
        PCICR = _BV(PCIE0) | _BV(PCIE1) | _BV(PCIE2);
        sleep_deeply();
        PCICR = 0;
        inputs.start();
    }

private:
    static volatile uint8_t& change_mask(Pin pin) { return (&PCMSK0)[number_of(pin) >> 3]; }

    static constexpr uint32_t enough_rounds = bike::park_after_s * 1000000ul / sample_us;

    uint32_t dark_rounds_{0};
    bool parked_{false};
};

} // namespace firmware
} // namespace winkhold

// They wake, nothing more.
EMPTY_INTERRUPT(WDT_vect)
EMPTY_INTERRUPT(PCINT0_vect)
EMPTY_INTERRUPT(PCINT1_vect)
EMPTY_INTERRUPT(PCINT2_vect)
