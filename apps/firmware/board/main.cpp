// Lights a bike's lamps: taps in, core::Board, lamps out. ATmega328P at 16 MHz; bike.hpp has the bike.
//
//   tick (128 us)  looks at one tap, lights the stop lamps, notes changes       the interrupt
//   main loop      steps the core at each change and at its deadlines, shows its frames on all other lamps
//   SPI            carries frames to the registers, byte by byte                an interrupt
//   watchdog       resets the chip when one of these has stopped
#include "changes.hpp"
#include "checks.hpp"
#include "clock.hpp"
#include "guard.hpp"
#include "inputs.hpp"
#include "lamps.hpp"
#include "learned.hpp"
#include "parking.hpp"
#include "registers.hpp"
#include "stop_lamps.hpp"
#include "store.hpp"

#include <avr/interrupt.h>
#include <util/atomic.h>

namespace winkhold {
namespace firmware {
namespace {

// What the interrupts share with the main loop, which touches it with interrupts off.
Store store;
const Kept& kept = store.load();
Clock clock;
Inputs inputs;
Changes changes;
RegisterChain registers;
StopLamps stop_lamps{kept.settings};

// The main loop's alone.
core::Board board{kept.settings, kept.timing, bike::groups, group_count};
Learned learned;
Parking parking;

/// What the main loop is to step the core with, if anything.
struct Work {
    bool wanted;
    core::Micros at;
    core::Lines lines;
};

/// The next change; without one, a deadline that has come. If there is nothing to do, sleeps until the next
/// interrupt, unless a deadline comes sooner. Interrupts on before and after.
Work next_work(core::Lines lines) {
    static core::Micros last; // step
    cli();
    const core::Micros now = clock.now();
    const core::Alarm wake = board.wake();
    Work work{wake.due(now), now, lines};
    if (!changes.empty()) {
        const Change change = changes.take();
        // it may be dated a little before the last step, but time never goes back
        const bool before = elapsed_us(last, change.at) < 2 * sample_us;
        work = Work{true, before ? last : change.at, change.lines};
    } else if (!wake.due(after(now, tick_us))) {
        sleep_lightly();
    }
    sei();
    if (work.wanted) last = work.at;
    return work;
}

/// Once a round of looks at the taps, and only then: so main loop, timer, ADC and SPI are all alive, and the
/// watchdog is held off. True if the bike is parked with this.
bool live_on() {
    static uint8_t rounds = 0;
    if (rounds == inputs.rounds()) return false;
    if (registers.sending()) return false; // done by the next round, or it hangs
    rounds = inputs.rounds();
    wdt_reset();
    bool parks = false;
    ATOMIC_BLOCK(ATOMIC_FORCEON) {
        if (rounds % 64 == 0) registers.send(); // what a spark has upset is right again
        parks = parking.after_round(inputs.lines());
        if (parking.parked() && !parks && inputs.lines() == core::Lines{} && !registers.sending() &&
            store.idle())
            parking.sleep(inputs);
    }
    return parks;
}

/// The rare part of a tick, out of line: the frequent one saves half of the registers only.
__attribute__((noinline)) void act(core::Micros now, bool changed) {
    if (changed) changes.add(inputs.changed_at(now), inputs.lines(), sample_us);
    stop_lamps.step(now, inputs.lines(), registers);
}

void start() {
    clock.start(); // the timers' modes first, then the pins that they drive
    registers.start();
    start_lamps();
    inputs.start();
    sei();
}

} // namespace
} // namespace firmware
} // namespace winkhold

using namespace winkhold;
using namespace winkhold::firmware;

ISR(TIMER0_OVF_vect) {
    const core::Micros now = clock.tick();
    const bool changed = inputs.tick();
    if (changed || changes.behind() || stop_lamps.due(now)) act(now, changed || changes.behind());
}

ISR(SPI_STC_vect) {
    registers.byte_sent();
}

__attribute__((OS_main)) int main() { // nobody's registers to save
    start();
    show_lamps(board.sequence(), false, registers);
    core::Lines lines;
    for (;;) {
        const Work work = next_work(lines);
        bool moved = live_on();
        if (work.wanted) {
            lines = work.lines;
            if (board.step(work.at, lines)) moved = true;
            if (parking.ended(lines)) moved = true;
            learned.note(board, work.at, store);
        }
        if (moved) show_lamps(board.sequence(), parking.parked(), registers);
        store.poll();
    }
}
