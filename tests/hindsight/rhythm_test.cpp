// Densities must be densities, and the rhythm must come out of the recording.
#include "hindsight/support.hpp"

#include "winkhold/measure/waveform/random.hpp"

#include <cmath>

namespace winkhold::testing {
namespace {

const host::Rhythm nominal{{353e3, 20e3}, {353e3, 12e3}};

/// Integral of exp(log density per second) from 0 to `to_us`, by the midpoint rule.
template <class LogDensity>
double share(LogDensity&& log_density, double to_us) {
    constexpr int slots = 200'000;
    const double slot_us = to_us / slots;
    double sum = 0;
    for (int i = 0; i < slots; ++i)
        sum += std::exp(log_density((i + 0.5) * slot_us));
    return sum * slot_us / 1e6;
}

TEST(Density, EachAddsUpToOne) {
    EXPECT_NEAR(share([](double us) { return nominal.log_gap_within(us); }, 2e6), 1, 1e-6);
    // the heavy tails beyond 30 s and 100 s are (30 / 0.353)^-2 of a tenth, and (100 / 2)^-3
    EXPECT_NEAR(share([](double us) { return nominal.log_light_within(us); }, 30e6), 1, 2e-5);
    EXPECT_NEAR(share([](double us) { return nominal.log_light_last(us); }, 30e6), 1, 2e-5);
    EXPECT_NEAR(share(&host::log_gap_between, 100e6), 1, 1e-5);
}

TEST(Density, WhatIsOpenAtTheEndIsTheRest) {
    for (const double us : {50e3, 340e3, 353e3, 380e3, 420e3, 1'050e3}) {
        EXPECT_NEAR(std::exp(nominal.log_gap_open(us)),
                    1 - share([](double x) { return nominal.log_gap_within(x); }, us), 1e-5);
        EXPECT_NEAR(std::exp(nominal.log_light_open(us)),
                    1 - share([](double x) { return nominal.log_light_within(x); }, us), 1e-5);
        EXPECT_NEAR(std::exp(host::log_gap_between_open(us)), 1 - share(&host::log_gap_between, us), 1e-5);
    }
}

TEST(Density, OneGapInAMillionIsLonger) {
    const double z = (nominal.longest_gap_us() - nominal.dark.centre_us) / nominal.dark.spread_us;
    EXPECT_NEAR(std::erfc(z / std::sqrt(2.0)) / 2, 1e-6, 1e-11);
}

TEST(LengthEstimate, CountsTheGuessAsOneMorePhase) {
    host::LengthEstimate lengths;
    for (const double us : {280e3, 320e3, 300e3})
        lengths.add(1, us);
    const host::PhaseLength length = lengths.over({340e3, 40e3});
    EXPECT_NEAR(length.centre_us, 310e3, 1e-6);
    // (30^2 + 10^2 + 10^2 + 40^2) / 4
    EXPECT_NEAR(length.spread_us, std::sqrt(675.0) * 1e3, 1e-6);
}

TEST(Rhythms, AreLearntFromTheRecording) {
    TraceWriter writer;
    writer.level(0, 1'000'000);
    writer.flashes(1, 12, 300'000, 400'000).level(0, 2'000'000);
    writer.flashes(2, 12, 320'000, 380'000).level(0, 2'000'000);
    const host::Rhythms rhythms = host::smooth(writer.trace(), core::Settings{}).rhythms;
    EXPECT_FALSE(rhythms.two);
    EXPECT_NEAR(rhythms.of[0][0].on.centre_us, 300e3, 1);
    EXPECT_NEAR(rhythms.of[0][0].dark.centre_us, 400e3, 1);
    EXPECT_NEAR(rhythms.of[1][0].on.centre_us, 320e3, 1);
    EXPECT_NEAR(rhythms.of[1][0].dark.centre_us, 380e3, 1);
}

TEST(Rhythms, LearningSharpensTheGuess) {
    host::RandomStream random(6, 0);
    TraceWriter writer;
    for (int i = 0; i < 60; ++i)
        writer.flashes(1, 1, 353'000 + random.whole(-7'000, 7'000), 353'000 + random.whole(-7'000, 7'000));
    const core::Settings settings;
    host::LightCollector lights(settings);
    for (const host::Edge& edge : writer.trace().edges)
        lights.feed(edge);
    lights.finish(writer.now_us());
    const auto steps = lights.steps(host::hazard_skew_us(settings));
    const host::PhaseLength guess = host::guess_rhythms(steps).of[0][0].dark;
    const host::PhaseLength learnt = host::smooth(writer.trace(), settings).rhythms.of[0][0].dark;
    EXPECT_GT(guess.spread_us, 17'000) << "never below 5 %";
    // uniform within 7 ms deviates by 4 ms; the guess as one more phase adds (35^2 / 60) ms^2
    EXPECT_NEAR(learnt.spread_us, std::sqrt(4.04 * 4.04 + 35.3 * 35.3 / 60) * 1e3, 600);
    EXPECT_NEAR(learnt.centre_us, 353e3, 1'500);
}

TEST(Rhythms, AFailingLampIsASecondOneAndAMissingFlashIsNot) {
    TraceWriter failing;
    failing.flashes(1, 9, 300'000, 400'000).flashes(1, 9, 130'000, 190'000).level(0, 2'000'000);
    const host::Smoothed fast = host::smooth(failing.trace(), core::Settings{});
    EXPECT_TRUE(fast.rhythms.two);
    EXPECT_EQ(fast.timeline.size(), 2u) << "left to its last light, then off";
    EXPECT_NEAR(fast.rhythms.of[0][0].dark.centre_us, 400e3, 2e3);
    EXPECT_NEAR(fast.rhythms.of[0][1].dark.centre_us, 190e3, 2e3);

    TraceWriter missing; // 200 ms lit, 250 dark: a flash missing leaves 700 ms
    for (int i = 0; i < 5; ++i)
        missing.flashes(1, 3, 200'000, 250'000).flashes(1, 1, 200'000, 700'000);
    missing.flashes(1, 3, 200'000, 250'000);
    const host::Smoothed gaps = host::smooth(missing.trace(), core::Settings{});
    EXPECT_FALSE(gaps.rhythms.two);
    EXPECT_NEAR(gaps.rhythms.of[0][0].dark.centre_us, 250e3, 2e3);
}

TEST(Rhythms, AnotherDutyAtTheSameRateIsASecondOne) {
    TraceWriter writer;
    writer.flashes(3, 8, 353'000, 353'000).flashes(3, 8, 235'000, 471'000);
    const TimeUs end_us = writer.now_us() - 471'000;
    writer.level(0, 2'000'000);
    const host::Smoothed smoothed = host::smooth(writer.trace(), core::Settings{});
    EXPECT_TRUE(smoothed.rhythms.two);
    EXPECT_EQ(smoothed.timeline, (host::Timeline{{0, Indication::hazard}, {end_us, Indication::off}}));
}

TEST(Rhythms, FlashesInGroupsOfThreeAreOneRequest) {
    TraceWriter writer;
    for (int group = 0; group < 8; ++group)
        writer.flashes(2, 2, 200'000, 250'000).flashes(2, 1, 200'000, 850'000);
    const TimeUs end_us = writer.now_us() - 850'000;
    writer.level(0, 2'000'000);
    const host::Smoothed smoothed = host::smooth(writer.trace(), core::Settings{});
    EXPECT_TRUE(smoothed.rhythms.two);
    EXPECT_EQ(smoothed.timeline, (host::Timeline{{0, Indication::right}, {end_us, Indication::off}}));
}

} // namespace
} // namespace winkhold::testing
