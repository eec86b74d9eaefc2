// What an inspection says about hand-made lines.
#include "support.hpp"

#include "winkhold/taps/inspect/light_finder.hpp"
#include "winkhold/taps/inspect/run_lengths.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::test;

// NHTSA interpretation letters 01931ztv and GF006498 on SAE J945 (read).
TEST(FlashRates, FirstPublishedVectorIs136PerMinuteByRatesAnd120ByTheMeanPeriod) {
    const Inspection seen =
        inspected(flashing(100'000, {{160'000, 200'000}, {160'000, 200'000}, {160'000, 620'000}}, 200), {},
                  300'000'000);
    EXPECT_NEAR(left_of(seen).rate.mean_of_rates_per_min, 136.8, 0.1);
    EXPECT_NEAR(left_of(seen).rate.of_mean_period_per_min, 120.0, 0.3);
}

TEST(FlashRates, SecondPublishedVectorIs107PerMinuteByRates) {
    const Inspection seen =
        inspected(flashing(100'000, {{200'000, 250'000}, {200'000, 250'000}, {200'000, 850'000}}, 2'000), {},
                  4'000'000'000);
    EXPECT_NEAR(left_of(seen).rate.mean_of_rates_per_min, 107.9, 0.1);
    EXPECT_NEAR(left_of(seen).rate.of_mean_period_per_min, 60e3 * 3 / 1950, 0.3);
}

TEST(FlashRates, ARestOfMoreThanASecondIsNoDarkTime) {
    Changes changes = flashing(0, {{300'000, 400'000}}, 4);
    const TimeUs last_fall_us = changes.back().t_us;
    for (const TimeUs rest_us : {1'000'000, 1'000'001}) {
        Changes again = changes;
        again.push_back({last_fall_us + rest_us, true});
        again.push_back({last_fall_us + rest_us + 300'000, false});
        const Inspection seen = inspected(again, {}, 9'000'000);
        EXPECT_EQ(left_of(seen).dark.count, rest_us > 1'000'000 ? 3 : 4);
    }
}

struct Odd {
    const char* rule;
    Changes left;
    LineKind kind;
    Polarity polarity;
};

Changes noise() {
    Changes changes;
    std::uint64_t state = 7;
    TimeUs t_us = 0;
    while (t_us < 9'000'000) {
        state = state * 6364136223846793005u + 1442695040888963407u;
        t_us += 1 + static_cast<TimeUs>(state >> 54); // up to 1 ms
        changes.push_back({t_us, changes.size() % 2 == 0});
    }
    return changes;
}

class OddLines : public ::testing::TestWithParam<Odd> {};

TEST_P(OddLines, AreToldApart) {
    const Inspection seen = inspected(GetParam().left, {}, 10'000'000);
    EXPECT_EQ(left_of(seen).kind, GetParam().kind);
    EXPECT_EQ(left_of(seen).polarity, GetParam().polarity);
    EXPECT_EQ(seen.lines[1].kind, LineKind::never_lit);
}

INSTANTIATE_TEST_SUITE_P(
    Rule, OddLines,
    ::testing::Values(Odd{"an empty line is never lit", {}, LineKind::never_lit, Polarity::high_is_lit},
                      Odd{"always on", {{0, true}}, LineKind::always_lit, Polarity::unknown},
                      Odd{"one flash", flashing(2'000'000, {{300'000, 1}}, 1), LineKind::single_flash,
                          Polarity::high_is_lit},
                      Odd{"PWM from start to end", chopped({{0, true}, {10'000'000, false}}, 5'000, 2'000),
                          LineKind::chopped_on, Polarity::unknown},
                      Odd{"PWM of 20 kHz from start to end",
                          chopped({{0, true}, {10'000'000, false}}, 50, 20), LineKind::chopped_on,
                          Polarity::unknown},
                      Odd{"noise has no rhythm", noise(), LineKind::restless, Polarity::unknown},
                      Odd{"short pulses are no flashes", flashing(500'000, {{4'000, 600'000}}, 10),
                          LineKind::never_lit, Polarity::high_is_lit},
                      Odd{"flashes from start to end can't tell the polarity",
                          flashing(0, {{300'000, 400'000}}, 14), LineKind::flashing, Polarity::unknown},
                      Odd{"flashes and a rest", flashing(100'000, {{300'000, 400'000}}, 5),
                          LineKind::flashing, Polarity::high_is_lit},
                      Odd{"the same upside down", inverted(flashing(100'000, {{300'000, 400'000}}, 5)),
                          LineKind::flashing, Polarity::low_is_lit}),
    [](const auto& one) {
        std::string name = one.param.rule;
        std::replace_if(
            name.begin(), name.end(), [](unsigned char c) { return std::isalnum(c) == 0; }, '_');
        return name;
    });

TEST(Polarity, AFewFlashesAndAWeldedContactAreNotInverted) {
    Changes changes = flashing(1'000'000, {{300'000, 400'000}}, 3);
    changes.push_back({3'100'000, true});
    changes.push_back({8'600'000, false});
    EXPECT_EQ(left_of(inspected(changes, {}, 12'000'000)).polarity, Polarity::high_is_lit);
}

TEST(Polarity, AnInvertedLineHasTheSameFiguresUpsideDown) {
    const Changes changes = flashing(100'000, {{300'000, 400'000}, {310'000, 395'000}}, 5);
    const LineView plain = left_of(inspected(changes, {}, 10'000'000));
    const LineView turned = left_of(inspected(inverted(changes), {}, 10'000'000));
    EXPECT_EQ(turned.on_us, plain.on_us);
    EXPECT_EQ(turned.dark_us, plain.dark_us);
    EXPECT_EQ(turned.rate.of_mean_period_per_min, plain.rate.of_mean_period_per_min);
    EXPECT_NEAR(turned.lit_percent, plain.lit_percent, 1e-9);
}

class ChoppedAt : public ::testing::TestWithParam<TimeUs> {};

TEST_P(ChoppedAt, FrequencyDutyAndOnTimeAreFound) {
    const TimeUs cycle_us = GetParam();
    const Changes lights = flashing(100'000, {{350'000, 350'000}}, 8);
    const Inspection seen = inspected(chopped(lights, cycle_us, cycle_us * 3 / 5), {}, 12'000'000);
    const LineView& line = left_of(seen);
    ASSERT_TRUE(line.pwm);
    EXPECT_NEAR(line.pwm->hz, 1e6 / static_cast<double>(cycle_us), 0.02e6 / static_cast<double>(cycle_us));
    EXPECT_NEAR(line.pwm->duty_percent, 60, 1);
    EXPECT_NEAR(line.on.mean_us, 350e3, static_cast<double>(cycle_us));
    EXPECT_EQ(line.lights.size(), 8u);
    EXPECT_GT(seen.pwm_gap.us, line.pwm->longest_low_us);
    EXPECT_LE(seen.pwm_gap.us, host::unrest_us);
}

// 60-400 Hz (from memory), and lamp drivers up to 20 kHz.
INSTANTIATE_TEST_SUITE_P(Cycle, ChoppedAt, ::testing::Values(16'660, 10'000, 5'000, 2'500, 1'000, 250, 50));

/// A dimmer: up from dark in `up` cycles, steady for `steady_us`, down again. 300 ms dark after each light.
Changes dimmed(TimeUs cycle_us, int up, TimeUs steady_us, int times) {
    Changes changes;
    TimeUs t_us = 500'000;
    const auto cycle = [&](int step) {
        changes.push_back({t_us, true});
        changes.push_back({t_us + cycle_us * step / (up + 1), false});
        t_us += cycle_us;
    };
    for (int i = 0; i < times; ++i) {
        for (int step = 1; step <= up; ++step)
            cycle(step);
        changes.push_back({t_us, true});
        t_us += steady_us;
        changes.push_back({t_us, false});
        t_us += cycle_us / (up + 1);
        for (int step = up; step >= 1; --step)
            cycle(step);
        t_us += 300'000;
    }
    return changes;
}

// 6.83 ms: 146 Hz. Up in 15 cycles (102 ms), down in 15; the first high lasts a sixteenth of a cycle, 0.427
// ms, so the longest pause is 6.403 ms, and the pwm gap half more: 9.6 ms, up to whole ones 10.
TEST(Pwm, ADimmerIsChoppedWhateverIsLitAndDoesNotBounce) {
    for (const TimeUs steady_us : {0, 50'000, 400'000}) {
        const Inspection seen = inspected(dimmed(6'830, 15, steady_us, 6), {}, 8'000'000);
        const LineView& line = left_of(seen);
        ASSERT_TRUE(line.pwm) << steady_us;
        EXPECT_NEAR(line.pwm->hz, 146.4, 0.5);
        EXPECT_TRUE(line.pwm->fades());
        EXPECT_EQ(line.rise.edges, 0) << "no bounce is told";
        EXPECT_EQ(line.lights.size(), 6u);
        EXPECT_EQ(seen.settle.us, core::Settings{}.settle_us);
        EXPECT_EQ(seen.pwm_gap.us, 10'000);
    }
}

TEST(Pwm, FoundOnACoarseClockToo) {
    Changes coarse;
    for (const Change& change : dimmed(6'830, 15, 400'000, 6)) // rises 6 or 7 ms apart, on a clock of 1 ms
        coarse.push_back({change.t_us / 1'000 * 1'000, change.high});
    const Inspection seen = inspected(coarse, {}, 8'000'000);
    ASSERT_TRUE(left_of(seen).pwm);
    EXPECT_EQ(seen.settle.us, core::Settings{}.settle_us);
}

// Four rises 4, 8 and 16 ms apart are no regular ones.
TEST(Pwm, ARelayThatRattlesAtEachRiseIsNone) {
    Changes changes;
    for (TimeUs on_us = 500'000; on_us < 6'000'000; on_us += 700'000)
        for (const TimeUs after_us : {0, 4'000, 12'000, 28'000, 36'000}) {
            changes.push_back({on_us + after_us, true});
            changes.push_back({on_us + after_us + (after_us == 36'000 ? 300'000 : 2'000), false});
        }
    EXPECT_FALSE(left_of(inspected(changes, {}, 8'000'000)).pwm);
    EXPECT_GT(left_of(inspected(changes, {}, 8'000'000)).rise.bounced, 0);
}

// 40 Hz a few times in one light of ten: a contact that the engine shakes.
TEST(Pwm, OneLightThatShakesAmongSteadyOnesIsNone) {
    Changes changes = flashing(500'000, {{300'000, 400'000}}, 10);
    const Changes shaken = chopped({{8'000'000, true}, {8'300'000, false}}, 25'000, 15'000);
    changes.insert(changes.end(), shaken.begin(), shaken.end());
    EXPECT_FALSE(left_of(inspected(changes, {}, 10'000'000)).pwm);
}

// The recording begins and ends in a pause of the carrier: neither the first nor the last light is whole.
TEST(Lights, CutByTheRecordingsEndsInAPauseOfTheCarrierAreNotWhole) {
    const Changes changes = chopped(flashing(5'000, {{300'000, 300'000}}, 4), 6'000, 2'000);
    const LineView line = left_of(inspected(changes, {}, changes.back().t_us + 3'000));
    ASSERT_EQ(line.lights.size(), 4u);
    EXPECT_TRUE(line.lights.front().from_start);
    EXPECT_TRUE(line.lights.back().to_end);
    EXPECT_EQ(line.on.count, 2);
    EXPECT_EQ(line.on.most_us, 296'000) << "from the first high to the end of the last one";
}

TEST(Pwm, ARunningLampThatChopsTheDarkIsTold) {
    Changes changes;
    const Changes lights = flashing(1'000'000, {{350'000, 350'000}}, 8);
    TimeUs dark_from_us = 0;
    for (std::size_t i = 0; i < lights.size(); i += 2) {
        for (TimeUs t_us = dark_from_us; t_us + 5'000 < lights[i].t_us; t_us += 5'000) {
            changes.push_back({t_us, true});
            changes.push_back({t_us + 1'500, false});
        }
        changes.push_back(lights[i]);
        changes.push_back(lights[i + 1]);
        dark_from_us = lights[i + 1].t_us + 3'500;
    }
    const Inspection seen = inspected(changes, {}, dark_from_us + 1'000'000);
    EXPECT_TRUE(left_of(seen).dark_chopped);
    EXPECT_EQ(left_of(seen).lights.size(), 8u);
    EXPECT_EQ(left_of(seen).on.p50_us, 350'000);
    EXPECT_EQ(seen.pwm_gap.us, 0) << "a gap that bridges the dark would never go dark";
    EXPECT_GT(seen.settle.us, 1'500);
    ASSERT_TRUE(left_of(seen).pwm);
    EXPECT_NEAR(left_of(seen).pwm->hz, 200, 2);
    EXPECT_NEAR(left_of(seen).pwm->duty_percent, 30, 1);
}

TEST(Noise, ThatFillsTheDarkIsNoRunningLamp) {
    Changes changes;
    const Changes lights = flashing(1'000'000, {{350'000, 350'000}}, 8);
    TimeUs t_us = 1'000;
    for (std::size_t i = 0; i < lights.size(); i += 2) {
        for (TimeUs wait_us = 0; t_us + 4'000 < lights[i].t_us; t_us += wait_us) {
            changes.push_back({t_us, true});
            changes.push_back({t_us + 200 + t_us % 1'900, false});
            wait_us = 3'000 + t_us * 7 % 19'000;
        }
        changes.push_back(lights[i]);
        changes.push_back(lights[i + 1]);
        t_us = lights[i + 1].t_us + 3'500;
    }
    const Inspection seen = inspected(changes, {}, t_us + 20'000);
    EXPECT_TRUE(left_of(seen).dark_chopped);
    EXPECT_FALSE(left_of(seen).pwm);
    EXPECT_EQ(left_of(seen).lights.size(), 8u);
    EXPECT_GE(seen.settle.us, 2'099);
}

/// A rise that bounces at 1, 2 and 4 ms, and a fall that shows 1.5 ms of light again.
Changes bouncing(int times) {
    Changes changes;
    for (int i = 0; i < times; ++i) {
        const TimeUs on_us = 100'000 + i * 700'000;
        const TimeUs off_us = on_us + 350'000;
        for (const auto& [after_us, high] :
             {std::pair<TimeUs, bool>{0, true}, {1'000, false}, {2'000, true}, {3'000, false}, {4'000, true}})
            changes.push_back({on_us + after_us, high});
        for (const auto& [after_us, high] : {std::pair<TimeUs, bool>{0, false}, {500, true}, {2'000, false}})
            changes.push_back({off_us + after_us, high});
    }
    return changes;
}

TEST(Bounce, IsCountedAndTimedAtBothEdges) {
    const Inspection seen = inspected(bouncing(6), {}, 8'000'000);
    const LineView& line = left_of(seen);
    EXPECT_EQ(line.rise.edges, 6);
    EXPECT_EQ(line.rise.bounced, 6);
    EXPECT_EQ(line.rise.changes_mean, 4);
    EXPECT_EQ(line.rise.settling.most_us, 4'000);
    EXPECT_EQ(line.rise.longest_false_us, 1'000);
    EXPECT_EQ(line.fall.changes_mean, 2);
    EXPECT_EQ(line.fall.settling.most_us, 2'000);
    EXPECT_EQ(line.fall.longest_false_us, 1'500);
    EXPECT_EQ(line.on.most_us, 350'000) << "bounce is no part of the on time";
    EXPECT_EQ(line.dark.most_us, 350'000);
    EXPECT_EQ(line.highs_below[0], 0);
    EXPECT_EQ(line.highs_below[1], 6 * 3);
}

TEST(Bounce, TheSuggestedSettleStandsAboveTheLongestFalseLevel) {
    Changes changes = flashing(100'000, {{300'000, 400'000}}, 6);
    for (const TimeUs pulse_us : {3'000, 6'000, 12'000}) {
        Changes spoilt = changes;
        spoilt.push_back({6'000'000, true});
        spoilt.push_back({6'000'000 + pulse_us, false});
        const Inspection seen = inspected(spoilt, {}, 8'000'000);
        EXPECT_GT(seen.settle.us, pulse_us);
        EXPECT_LE(seen.settle.us, std::max<TimeUs>(5'000, 2 * pulse_us));
    }
}

TEST(Bounce, OneShortPulseAmongTwentyFlashesMayBeACutFlashAndAsksForNothing) {
    for (const int flashes : {19, 20}) {
        Changes changes = flashing(100'000, {{300'000, 400'000}}, flashes);
        changes.push_back({16'000'000, true});
        changes.push_back({16'012'000, false});
        EXPECT_EQ(inspected(changes, {}, 18'000'000).settle.us, flashes == 20 ? 5'000 : 16'000);
    }
}

TEST(Lights, ALowOfTwentyFiveMillisecondsEndsALightAndAShorterOneDoesNot) {
    for (const TimeUs low_us : {24'999, 25'000, 25'001}) {
        const Changes changes{{100'000, true}, {300'000, false}, {300'000 + low_us, true}, {500'000, false}};
        EXPECT_EQ(left_of(inspected(changes, {}, 3'000'000)).lights.size(), low_us < 25'000 ? 1u : 2u);
    }
}

TEST(Lights, TwentyMillisecondsAreALightAndLessIsAPulse) {
    for (const TimeUs lit_us : {19'999, 20'000, 20'001}) {
        const LineView line = left_of(inspected({{100'000, true}, {100'000 + lit_us, false}}, {}, 3'000'000));
        EXPECT_EQ(line.lights.size(), lit_us < 20'000 ? 0u : 1u);
        EXPECT_EQ(line.pulses, lit_us < 20'000 ? 1 : 0);
    }
}

TEST(Skew, IsMeasuredWhereBothSidesFlash) {
    const Inspection seen = inspected(flashing(100'000, {{300'000, 400'000}}, 6),
                                      flashing(112'000, {{295'000, 405'000}}, 6), 8'000'000);
    ASSERT_EQ(seen.skew.rise_us.size(), 6u);
    EXPECT_EQ(seen.skew.rise_us.front(), 12'000);
    EXPECT_EQ(seen.skew.fall_us.front(), 7'000);
}

TEST(Skew, IsNoneWhereTheSidesTakeTurns) {
    const Inspection seen = inspected(flashing(100'000, {{300'000, 400'000}}, 6),
                                      flashing(440'000, {{300'000, 400'000}}, 6), 8'000'000);
    EXPECT_FALSE(seen.skew.any());
}

TEST(Hold, TheSuggestionBridgesEveryGapSeenAndNeedsFiveOfThem) {
    for (const int flashes : {5, 6}) {
        const Inspection seen = inspected(flashing(0, {{300'000, 400'000}}, flashes), {}, 8'000'000);
        if (flashes == 5) {
            EXPECT_EQ(seen.hold.us, core::Settings{}.hold_us) << "four gaps";
        } else {
            EXPECT_EQ(seen.hold.us, 405'000) << "equal gaps, and the settle";
        }
    }
}

TEST(Hold, ARestBetweenTwoRequestsIsNotBridged) {
    Changes changes = flashing(0, {{300'000, 400'000}}, 8);
    const Changes more = flashing(changes.back().t_us + 950'000, {{300'000, 400'000}}, 8);
    changes.insert(changes.end(), more.begin(), more.end());
    EXPECT_EQ(inspected(changes, {}, 16'000'000).hold.us, 405'000);
    const Changes grouped = flashing(0, {{200'000, 250'000}, {200'000, 250'000}, {200'000, 850'000}}, 6);
    EXPECT_GE(inspected(grouped, {}, 16'000'000).hold.us, 855'000) << "a third of the gaps are no rests";
}

TEST(Drift, IsFoundWithItsSign) {
    Changes changes;
    TimeUs t_us = 0;
    for (int i = 0; i < 60; ++i) {
        const auto grown = static_cast<TimeUs>(350'000 * (1 + 0.05 * static_cast<double>(t_us) / 60e6));
        changes.push_back({t_us, true});
        changes.push_back({t_us + grown, false});
        t_us += 2 * grown;
    }
    const auto drift = left_of(inspected(changes, {}, t_us)).drift;
    ASSERT_TRUE(drift);
    EXPECT_NEAR(drift->percent_per_min, 5, 0.2); // of the mean period, which is longer than the first
    EXPECT_GT(drift->low, 0);
}

TEST(Clock, TheStepIsTheGreatestThatDividesAllTimes) {
    EXPECT_EQ(inspected(flashing(10'000, {{300'000, 400'000}}, 3), {}, 8'000'000).tick_us, 10'000);
    EXPECT_EQ(inspected(flashing(10'000, {{300'001, 400'000}}, 3), {}, 8'000'000).tick_us, 1);
}

} // namespace
