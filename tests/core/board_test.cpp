// Decoder, taps and lamps as one: what each of them asks to be woken for, and steps that come late.
#include "winkhold/core/core.hpp"

#include <gtest/gtest.h>

namespace winkhold::testing {
namespace {

using core::Indication;
using core::Lines;
using core::Micros;

constexpr core::LampGroup board_groups[] = {
    {core::Job::turn, Indication::left, 6, core::outward(30'000), 255, 0},
    {core::Job::stop, Indication::hazard, 18, core::together(), 255, 0},
};
constexpr std::uint32_t settle_us = core::Settings{}.settle_us;
constexpr Micros begin{0xfff80000}; // the clock wraps 524 ms later

Micros at(std::uint32_t t_us) {
    return Micros{begin.count_us + t_us};
}

core::Board board() {
    core::Board board(core::Settings{}, core::SequenceSettings{}, board_groups, 2);
    board.step(begin, Lines{});
    return board;
}

TEST(Board, SteppedAtItsOwnWakesAloneItShowsEachLampAndTheBrakeInTime) {
    core::Board stepped = board();
    const Lines lines = Lines{}.with(Lines::left, true).with(Lines::brake, true);
    stepped.step(at(500'000), lines);
    for (std::uint32_t lamp = 0; lamp < 6; ++lamp) {
        const Micros due = at(500'000 + settle_us + lamp * 30'000);
        do { // a light that has stood for a blink wakes it, too
            ASSERT_TRUE(stepped.wake().armed);
            EXPECT_EQ(stepped.sequence().frame(0).lit, lamp);
            stepped.step(stepped.wake().at, lines);
        } while (!core::reached(stepped.wake().at, core::after(due, 1)));
        EXPECT_EQ(stepped.sequence().frame(0).lit, lamp + 1);
        EXPECT_EQ(stepped.sequence().frame(1).level, 255) << "the brake settles with the line";
    }
}

TEST(Board, TheBrakeAloneWakesIt) {
    core::Board stepped = board();
    const Lines lines = Lines{}.with(Lines::brake, true);
    stepped.step(at(500'000), lines);
    ASSERT_TRUE(stepped.wake().armed);
    EXPECT_EQ(stepped.wake().at.count_us, at(500'000 + settle_us).count_us);
    stepped.step(stepped.wake().at, lines);
    EXPECT_EQ(stepped.sequence().frame(1).lit, 18);
}

TEST(Board, ALateStepLeadsToTheSameFrames) {
    core::Board late = board();
    const Lines lines = Lines{}.with(Lines::left, true);
    late.step(at(500'000), lines);
    late.step(at(500'000 + settle_us + 65'000), lines);
    EXPECT_EQ(late.sequence().frame(0).lit, 3) << "two steps of 30 ms after the rise has settled";
}

TEST(Sequence, ALateStepKeepsTheOwnRatesTime) {
    core::SequenceSettings timing;
    timing.source = core::FlashSource::own_rate;
    timing.on_us = 400'000;
    timing.dark_us = 300'000;
    core::Sequence late(timing, board_groups, 2);
    late.step(begin, Indication::left, Lines{});
    late.step(at(735'000), Indication::left, Lines{});
    EXPECT_EQ(late.frame(0).lit, 2) << "35 ms into the second flash";
}

} // namespace
} // namespace winkhold::testing
