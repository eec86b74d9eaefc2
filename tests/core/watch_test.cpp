#include "winkhold/core/core.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace {

namespace core = winkhold::core;
using core::Side;

/// Steps at edges and wakes.
struct Bench {
    core::Decoder decoder{core::Settings{}};
    core::Lines lines;
    std::uint32_t now_us{0};

    void run_to(std::uint32_t t_us) {
        while (decoder.wake().armed && core::elapsed_us(decoder.wake().at, {now_us}) <= t_us - now_us) {
            now_us = decoder.wake().at.count_us;
            decoder.step({now_us}, lines);
        }
        now_us = t_us;
    }
    void set(std::uint32_t t_us, core::Lines::Tap tap, bool high) {
        run_to(t_us);
        lines = lines.with(tap, high);
        decoder.step({t_us}, lines);
    }
    void flash(std::uint32_t from_us, std::uint32_t on_us) {
        set(from_us, core::Lines::left, true);
        set(from_us + on_us, core::Lines::left, false);
    }
    std::uint8_t faults() const { return decoder.faults(Side::left); }
};

TEST(Watch, TwoPeriodsBelowTheLimitInARowAreFastAndASlowOneClears) {
    Bench bench;
    bench.flash(0, 200'000);
    bench.flash(449'999, 200'000);
    bench.run_to(700'000);
    EXPECT_EQ(bench.faults(), 0) << "one fast period may be a fluke";
    bench.set(899'998, core::Lines::left, true);
    bench.run_to(944'998); // a flash once it has stood for a blink
    EXPECT_EQ(bench.faults(), core::fast_flash);
    bench.set(1'100'000, core::Lines::left, false);
    bench.set(1'349'998, core::Lines::left, true); // exactly at the limit
    bench.run_to(1'400'000);
    EXPECT_EQ(bench.faults(), 0);
}

/// Flashes of 250 ms with these periods, on top of two of 825 ms. Returns the faults after each.
std::vector<int> after_825_ms(std::initializer_list<std::uint32_t> periods_us) {
    Bench bench;
    std::uint32_t t_us = 0;
    std::vector<int> faults;
    bench.flash(t_us, 400'000);
    for (int i = 0; i < 2; ++i)
        bench.flash(t_us += 825'088, 400'000); // 3223 steps of 256 us
    for (const std::uint32_t period_us : periods_us) {
        bench.flash(t_us += period_us, 250'000);
        faults.push_back(bench.faults());
    }
    return faults;
}

TEST(Watch, TwoPeriodsShorterThanEightEleventhsOfTheUsualAreFastInStepsOf256Us) {
    EXPECT_EQ(after_825_ms({600'063, 600'063, 600'063, 600'063, 825'000}),
              (std::vector<int>{0, 0, 0, core::fast_flash, 0}))
        << "two gaps alike are a new rhythm first";
    EXPECT_EQ(after_825_ms({600'064, 600'064, 600'064, 600'064}), (std::vector<int>{0, 0, 0, 0}));
    EXPECT_EQ(after_825_ms({600'063, 825'088, 825'088, 600'063}), (std::vector<int>{0, 0, 0, 0}))
        << "not in a row";
}

TEST(Watch, AFlashLeftOutMakesNoUsualPeriod) {
    EXPECT_EQ(after_825_ms({1'150'000, 825'000, 825'000, 825'000}), (std::vector<int>{0, 0, 0, 0}));
}

TEST(Watch, ASlowFirstPeriodMakesNoUsualPeriod) {
    Bench bench;
    bench.flash(0, 800'000);
    for (std::uint32_t i = 0; i < 3; ++i)
        bench.flash(1'500'000 + i * 700'000, 350'000);
    bench.run_to(3'300'000);
    EXPECT_EQ(bench.faults(), 0);
}

TEST(Watch, TheUsualPeriodOutlastsSilence) {
    Bench bench;
    for (std::uint32_t i = 0; i < 3; ++i)
        bench.flash(i * 1'000'000, 500'000);
    for (std::uint32_t i = 0; i < 3; ++i)
        bench.flash(9'000'000 + i * 650'000, 200'000);
    EXPECT_EQ(bench.faults(), core::fast_flash);
}

TEST(Watch, OnForLongerThanAnyFlashIsStuckAndStaysLit) {
    Bench bench;
    bench.set(0, core::Lines::left, true);
    bench.run_to(3'004'999);
    EXPECT_EQ(bench.faults(), 0);
    bench.run_to(3'005'000);
    EXPECT_EQ(bench.faults(), core::stuck_on);
    EXPECT_EQ(bench.decoder.faults(Side::right), 0);
    EXPECT_EQ(bench.decoder.indication(), core::Indication::left);
    bench.set(4'000'000, core::Lines::left, false);
    bench.run_to(4'005'000);
    EXPECT_EQ(bench.faults(), 0);
    bench.run_to(6'000'000);
    EXPECT_EQ(bench.faults(), 0) << "dark for long";
}

TEST(Watch, ManyChangesWithoutSettlingAreChatterAndQuietClearsIt) {
    Bench bench;
    for (std::uint32_t i = 0; i < 9; ++i)
        bench.set(1'000 + i * 2'000, core::Lines::left, i % 2 == 0);
    EXPECT_EQ(bench.faults(), 0);
    bench.set(19'000, core::Lines::left, false);
    EXPECT_EQ(bench.faults(), core::chatter);
    EXPECT_EQ(bench.decoder.indication(), core::Indication::off);
    bench.run_to(250'000);
    bench.set(300'000, core::Lines::left, true);
    bench.set(301'000, core::Lines::left, false);
    bench.run_to(500'000);
    EXPECT_EQ(bench.faults(), 0);
}

TEST(Watch, SpikesThatAreFarApartAreNoChatterHoweverMany) {
    Bench bench;
    for (std::uint32_t i = 0; i < 200; ++i) {
        bench.set(1'000 + i * 30'000, core::Lines::left, true);
        bench.set(1'500 + i * 30'000, core::Lines::left, false);
    }
    EXPECT_EQ(bench.faults(), 0);
}

TEST(PlainTaps, BrakeTailAndSupplySettleAndHaveNoHold) {
    core::PlainTaps taps{core::Settings{}};
    const core::Lines dark, brake{core::Lines::brake}, others{core::Lines::tail | core::Lines::supply};
    EXPECT_EQ(taps.step({1'000}, brake), dark);
    EXPECT_EQ(taps.step({2'000}, dark), dark);
    EXPECT_EQ(taps.step({2'500}, brake), dark);
    EXPECT_EQ(taps.step({7'499}, brake), dark);
    EXPECT_EQ(taps.wake().at.count_us, 7'500u);
    EXPECT_EQ(taps.step({7'500}, brake), brake);
    EXPECT_FALSE(taps.wake().armed);
    EXPECT_EQ(taps.step({100'000}, core::Lines{}), brake);
    EXPECT_EQ(taps.step({12'000'000}, core::Lines{core::Lines::left}), dark) << "a late step catches up";
    taps.step({12'100'000}, others);
    EXPECT_EQ(taps.step({12'105'000}, others), others);
}

TEST(Watch, BothSidesMovingAsOneThreeTimesCantBeToldFromCrossFeed) {
    Bench bench;
    for (std::uint32_t i = 0; i < 3; ++i) {
        EXPECT_EQ(bench.faults(), 0) << i;
        bench.set(i * 600'000, core::Lines::left, true);
        bench.set(i * 600'000 + 300, core::Lines::right, true);
        bench.run_to(i * 600'000 + 6'000);
        EXPECT_EQ(bench.decoder.indication(), core::Indication::hazard);
        bench.set(i * 600'000 + 300'000, core::Lines::left, false);
        bench.set(i * 600'000 + 300'000, core::Lines::right, false);
    }
    EXPECT_EQ(bench.faults(), core::as_one);
    bench.set(1'800'000, core::Lines::left, true); // a skew of two contacts clears it
    bench.set(1'800'301, core::Lines::right, true);
    bench.run_to(1'806'000);
    EXPECT_EQ(bench.faults(), 0);
}

TEST(Watch, SidesThatTakeTurnsFlashByFlashAreReported) {
    Bench bench;
    for (std::uint32_t i = 0; i < 5; ++i) {
        EXPECT_EQ(bench.faults(), 0) << i;
        const auto tap = i % 2 == 0 ? core::Lines::left : core::Lines::right;
        bench.set(i * 350'000, tap, true);
        bench.run_to(i * 350'000 + 6'000);
        bench.set(i * 350'000 + 350'000, tap, false);
    }
    EXPECT_EQ(bench.faults(), core::alternating);
}

TEST(Supply, ADipInABrightPhaseIsNoCancelAndTeachesNothing) {
    Bench bench;
    bench.set(0, core::Lines::supply, true);
    for (std::uint32_t i = 0; i < 40; ++i)
        bench.flash(100'000 + i * 700'000, 350'000);
    bench.set(28'100'000, core::Lines::left, true);
    bench.set(28'200'000, core::Lines::supply, false);
    bench.set(28'201'000, core::Lines::left, false);
    bench.run_to(28'290'000);
    EXPECT_EQ(bench.decoder.indication(), core::Indication::left) << "before the supply is back";
    bench.set(28'300'000, core::Lines::supply, true);
    bench.set(28'301'000, core::Lines::left, true);
    bench.set(28'450'000, core::Lines::left, false);
    bench.run_to(28'500'000);
    EXPECT_EQ(bench.decoder.indication(), core::Indication::left) << "the rest of the split flash";
}

TEST(Supply, ADipInTheDarkExcusesOneFlashAlone) {
    Bench bench;
    bench.set(0, core::Lines::supply, true);
    for (std::uint32_t i = 0; i < 40; ++i)
        bench.flash(100'000 + i * 700'000, 350'000);
    bench.set(28'100'000, core::Lines::supply, false);
    bench.set(28'150'000, core::Lines::left, true); // it may have lit late
    bench.set(28'170'000, core::Lines::supply, true);
    bench.set(28'350'000, core::Lines::left, false);
    bench.run_to(28'360'000);
    EXPECT_EQ(bench.decoder.indication(), core::Indication::left);
    bench.flash(28'700'000, 350'000);
    bench.flash(29'400'000, 100'000);
    bench.run_to(29'506'000);
    EXPECT_EQ(bench.decoder.indication(), core::Indication::off) << "the next one is cut short";
}

TEST(Supply, GoneForGoodEverythingIsOff) {
    Bench bench;
    bench.set(0, core::Lines::supply, true);
    bench.set(1'000, core::Lines::left, true);
    bench.set(100'000, core::Lines::supply, false);
    bench.set(103'000, core::Lines::left, false);
    bench.run_to(219'999);
    EXPECT_EQ(bench.decoder.indication(), core::Indication::left);
    bench.run_to(220'000);
    EXPECT_EQ(bench.decoder.indication(), core::Indication::off);
}

TEST(Supply, ATapThatWasNeverUpIsNotConnected) {
    Bench bench;
    bench.set(1'000, core::Lines::left, true);
    bench.run_to(1'000'000);
    EXPECT_EQ(bench.decoder.indication(), core::Indication::left);
}

} // namespace
