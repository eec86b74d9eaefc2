// What planted faults (tests/mutation/) showed to be told by no other test of faults and supply.
#include "winkhold/core/core.hpp"

#include <gtest/gtest.h>

namespace winkhold::testing {
namespace {

/// Steps at edges and wakes, as firmware does.
struct Taps {
    core::Decoder decoder{core::Settings{}};
    core::Lines lines;

    void run_to(std::uint32_t t_us) {
        while (decoder.wake().armed && decoder.wake_us().count_us <= t_us)
            decoder.step(decoder.wake_us(), lines);
    }
    void set(std::uint32_t t_us, core::Lines::Tap tap, bool high) {
        run_to(t_us);
        lines = lines.with(tap, high);
        decoder.step({t_us}, lines);
    }
    void flash(std::uint32_t t_us, core::Lines::Tap tap, std::uint32_t on_us) {
        set(t_us, tap, true);
        set(t_us + on_us, tap, false);
        run_to(t_us + on_us + 10'000);
    }
    int faults() const { return decoder.faults(core::Side::left); }
};

TEST(WatchGaps, OneSideFlashingTakesNoTurns) {
    Taps taps;
    for (std::uint32_t i = 0; i < 6; ++i)
        taps.flash(i * 700'000, core::Lines::left, 350'000);
    EXPECT_EQ(taps.faults(), 0);
}

TEST(WatchGaps, OneSideFlashingSoonAfterTheOtherTakesOneTurnAlone) {
    Taps taps;
    taps.flash(0, core::Lines::right, 100'000);
    for (std::uint32_t i = 0; i < 4; ++i)
        taps.flash(200'000 + i * 240'000, core::Lines::left, 120'000);
    EXPECT_EQ(taps.faults() & core::alternating, 0);
}

TEST(WatchGaps, AHazardAfterThreeTurnsIsNoFourthTurn) {
    Taps taps;
    for (std::uint32_t i = 0; i < 3; ++i)
        taps.flash(i * 350'000, i % 2 == 0 ? core::Lines::left : core::Lines::right, 300'000);
    taps.set(1'050'000, core::Lines::right, true);
    taps.set(1'090'000, core::Lines::left, true);
    taps.run_to(1'100'000);
    EXPECT_EQ(taps.faults(), 0);
}

TEST(WatchGaps, AnInterruptedFlashIsNoRiseApartFromTheOtherSide) {
    Taps taps;
    for (std::uint32_t t_us : {0u, 600'000u, 1'200'000u}) {
        taps.set(t_us, core::Lines::left, true);
        taps.set(t_us, core::Lines::right, true);
        taps.set(t_us + 20'000, core::Lines::left, false);
        taps.set(t_us + 30'000, core::Lines::left, true);
        taps.set(t_us + 150'000, core::Lines::left, false);
        taps.set(t_us + 180'000, core::Lines::left, true);
        taps.set(t_us + 300'000, core::Lines::left, false);
        taps.set(t_us + 300'000, core::Lines::right, false);
    }
    taps.run_to(1'600'000);
    EXPECT_EQ(taps.faults(), core::as_one);
}

TEST(WatchGaps, ThreeRisesAsOneWithASideAloneBetweenAreNotInARow) {
    Taps taps;
    for (std::uint32_t i = 0; i < 5; ++i) {
        const bool alone = i == 2 || i == 3;
        taps.set(i * 600'000, core::Lines::left, true);
        taps.set(i * 600'000, core::Lines::right, !alone);
        taps.set(i * 600'000 + 300'000, core::Lines::left, false);
        taps.set(i * 600'000 + 300'000, core::Lines::right, false);
    }
    EXPECT_EQ(taps.faults(), 0);
}

TEST(WatchGaps, FlashesOutOfRhythmAreNotFast) {
    Taps taps;
    for (std::uint32_t i = 0; i < 3; ++i)
        taps.flash(i * 2'000'000, core::Lines::left, 200'000);
    EXPECT_EQ(taps.faults(), 0);
}

TEST(WatchGaps, ChangesOnBothSidesOfASettledEdgeAreNotOneChatter) {
    Taps taps;
    for (std::uint32_t burst = 0; burst < 3; ++burst)
        for (std::uint32_t i = 0; i < 7; ++i)
            taps.set(1'000 + burst * 30'000 + i * 1'000, core::Lines::left, (burst + i) % 2 == 0);
    EXPECT_EQ(taps.faults(), 0);
}

TEST(WatchGaps, SpikesFarApartAreNoChatterWhileTheOtherSideIsLit) {
    Taps taps;
    taps.set(0, core::Lines::right, true);
    for (std::uint32_t i = 0; i < 20; ++i) {
        taps.set(20'000 + i * 30'000, core::Lines::left, true);
        taps.set(20'500 + i * 30'000, core::Lines::left, false);
    }
    EXPECT_EQ(taps.faults(), 0);
}

TEST(WatchGaps, ALitLineChoppedByDeclaredPwmIsNoChatter) {
    core::Settings s;
    s.pwm_gap_us = 10'000;
    Taps taps;
    taps.decoder = core::Decoder(s);
    taps.set(0, core::Lines::left, true);
    for (std::uint32_t i = 0; i < 50; ++i)
        taps.set(20'000 + i * 1'000, core::Lines::left, i % 2 == 1);
    EXPECT_EQ(taps.faults(), 0);
}

TEST(WatchGaps, ChatterEndsInTimeThoughTheOtherSideIsBusyThen) {
    Taps taps;
    for (std::uint32_t i = 0; i < 10; ++i)
        taps.set(1'000 + i * 2'000, core::Lines::right, i % 2 == 0);
    taps.set(300'000, core::Lines::right, true);
    taps.set(301'000, core::Lines::right, false);
    taps.set(396'000, core::Lines::left, true);
    EXPECT_EQ(taps.decoder.faults(core::Side::right), core::chatter);
    taps.set(400'500, core::Lines::left, false);
    taps.run_to(450'000);
    EXPECT_EQ(taps.decoder.faults(core::Side::right), 0);
}

TEST(WatchGaps, AFlashThatIsTwiceInterruptedIsNotFast) {
    Taps taps;
    for (std::uint32_t i = 0; i < 3; ++i)
        for (const bool high : {true, false})
            taps.set(i * 110'000 + (high ? 0 : 100'000), core::Lines::left, high);
    EXPECT_EQ(taps.faults(), 0);
}

TEST(WatchGaps, AStuckLineMakesNoPeriodEvenWhenTheInnerClockHasWrapped) {
    Taps taps;
    taps.flash(0, core::Lines::left, 16'900'000);
    taps.flash(17'100'000, core::Lines::left, 100'000);
    taps.flash(17'400'000, core::Lines::left, 100'000);
    EXPECT_EQ(taps.faults(), 0);
}

TEST(WatchGaps, TenChangesInMoreThanTheWindowAreNoChatter) {
    Taps taps;
    for (std::uint32_t i = 0; i < 5; ++i) {
        taps.set(1'000 + i * 25'500, core::Lines::left, true);
        taps.set(2'000 + i * 25'500, core::Lines::left, false);
    }
    EXPECT_EQ(taps.faults(), 0);
}

TEST(WatchGaps, ChatterThatGoesOnIsReportedWithoutABreak) {
    Taps taps;
    for (std::uint32_t i = 0; i < 150; ++i) {
        taps.set(1'000 + i * 2'000, core::Lines::left, i % 2 == 0);
        EXPECT_EQ(taps.faults(), i < 9 ? 0 : core::chatter) << i;
    }
    taps.run_to(600'000);
    EXPECT_EQ(taps.faults(), core::chatter) << "until changes end within a window";
}

TEST(DecoderGaps, OnlySettledEdgesAndDeadlinesStir) {
    Taps taps;
    taps.set(0, core::Lines::left, true);
    EXPECT_FALSE(taps.decoder.stirred());
    taps.run_to(5'000);
    EXPECT_TRUE(taps.decoder.stirred());
    taps.set(100'000, core::Lines::left, false);
    EXPECT_FALSE(taps.decoder.stirred());
}

TEST(SupplyGaps, GoneEndsALampThatStaysLitToo) {
    Taps taps;
    taps.set(0, core::Lines::supply, true);
    taps.set(1'000, core::Lines::left, true);
    taps.set(100'000, core::Lines::supply, false);
    taps.run_to(220'000);
    EXPECT_EQ(taps.decoder.indication(), core::Indication::off);
}

TEST(SupplyGaps, ADipIsNoCancelOnTheRightEither) {
    Taps taps;
    taps.set(0, core::Lines::supply, true);
    for (std::uint32_t i = 0; i < 4; ++i)
        taps.flash(100'000 + i * 700'000, core::Lines::right, 350'000);
    taps.set(2'900'000, core::Lines::right, true);
    taps.set(3'000'000, core::Lines::supply, false);
    taps.set(3'001'000, core::Lines::right, false);
    taps.run_to(3'090'000);
    EXPECT_EQ(taps.decoder.indication(), core::Indication::right);
}

TEST(SupplyGaps, GoneEndsBothSidesOnceAndAFlashAfterwardsIsShown) {
    Taps taps;
    taps.set(0, core::Lines::supply, true);
    taps.set(1'000, core::Lines::left, true);
    taps.set(1'000, core::Lines::right, true);
    taps.set(100'000, core::Lines::supply, false);
    taps.set(103'000, core::Lines::left, false);
    taps.set(103'000, core::Lines::right, false);
    taps.run_to(220'000);
    EXPECT_EQ(taps.decoder.indication(), core::Indication::off);
    taps.set(300'000, core::Lines::right, true);
    taps.run_to(350'000);
    EXPECT_EQ(taps.decoder.indication(), core::Indication::right);
}

TEST(WatchGaps, WhatHundredsOfFlashesShowIsNotForgotten) {
    Taps as_one;
    Taps in_turn;
    for (std::uint32_t i = 0; i < 260; ++i) {
        as_one.run_to(i * 600'000);
        as_one.lines = core::Lines{3};
        as_one.decoder.step({i * 600'000}, as_one.lines);
        as_one.run_to(i * 600'000 + 300'000);
        as_one.lines = core::Lines{};
        as_one.decoder.step({i * 600'000 + 300'000}, as_one.lines);
        in_turn.flash(i * 350'000, i % 2 == 0 ? core::Lines::left : core::Lines::right, 300'000);
        if (i < 5) continue;
        ASSERT_EQ(as_one.faults(), core::as_one) << i;
        ASSERT_EQ(in_turn.faults() & core::alternating, core::alternating) << i;
    }
}

} // namespace
} // namespace winkhold::testing
