#include "waveform/support.hpp"
#include "winkhold/measure/waveform/random.hpp"

#include <cmath>
#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::test;
using host::SideChange;

TEST(Restart, EachSelectionStartsWithAFullBrightPhaseAfterTransitAndDelay) {
    host::Scenario s = clean(SideChange::restart);
    s.flasher.start_delay_us = 5'000;
    s.rider.script = {for_time(Indication::off, 100'000), for_time(Indication::left, 1'300'000),
                      for_time(Indication::right, 1'000'000), for_time(Indication::off, 500'000)};
    host::RideMaker maker(s);
    const host::Ride& ride = maker.make(1, 0);
    const std::vector<Change> expected{{0, 0},         {105'000, 1},   {605'000, 0},  {1'105'000, 1},
                                       {1'400'000, 0}, {1'475'000, 2}, {1'975'000, 0}};
    EXPECT_EQ(changes(ride), expected);
    ASSERT_EQ(ride.truth.requests.size(), 2u);
    const host::Request& left = ride.truth.requests[0];
    EXPECT_EQ(left.start_us, 100'000);
    EXPECT_EQ(left.end_us, 1'400'000);
    EXPECT_EQ(left.first_light_us, 105'000);
    EXPECT_EQ(left.last_light_on_us, 1'105'000);
    EXPECT_EQ(left.last_light_off_us, 1'400'000);
    EXPECT_EQ(left.flashes, 2);
    EXPECT_EQ(ride.trace.end_us, 2'900'000);
}

TEST(WholeCycle, TheCycleIsCompletedBeforeTheNextSideStarts) {
    host::Scenario s = clean(SideChange::whole_cycle);
    s.rider.script = {for_time(Indication::left, 1'200'000), for_time(Indication::right, 1'300'000),
                      for_time(Indication::off, 2'000'000)};
    host::RideMaker maker(s);
    const std::vector<Change> expected{{0, 1},         {500'000, 0},   {1'000'000, 1},
                                       {1'500'000, 0}, {2'000'000, 2}, {2'500'000, 0}};
    EXPECT_EQ(changes(maker.make(1, 0)), expected);
}

TEST(FreeRunning, TheOscillatorIsMerelyGated) {
    host::Scenario s = clean(SideChange::free_running);
    s.rider.script = {for_time(Indication::left, 10'000'000), for_time(Indication::off, 300'000),
                      for_time(Indication::right, 10'000'000)};
    host::RideMaker maker(s);
    for (std::uint64_t trial = 0; trial < 20; ++trial) {
        // every change is the oscillator's or the switch's; the oscillator's keep their phase all along
        std::vector<TimeUs> phases;
        for (const host::Edge& edge : maker.make(1, trial).trace.edges)
            if (edge.t_us % 100'000 != 0) phases.push_back(edge.t_us % 500'000);
        ASSERT_FALSE(phases.empty());
        for (const TimeUs phase : phases)
            EXPECT_NEAR(static_cast<double>(phase), static_cast<double>(phases[0]), 1);
    }
}

TEST(Flasher, ALampOutRaisesTheRateAndShortensTheBrightShare) {
    host::Scenario s = clean(SideChange::restart);
    s.flasher.lamp_out_after_flashes = 3;
    s.flasher.lamp_out_rate_factor = 2;
    s.flasher.lamp_out_duty_percent = 40;
    s.rider.script = {for_time(Indication::left, 5'000'000)};
    host::RideMaker maker(s);
    const auto list = changes(maker.make(1, 0));
    EXPECT_EQ(list[4].t_us, 2'000'000);
    EXPECT_EQ(list[5].t_us, 2'500'000);
    EXPECT_EQ(list[6].t_us, 3'000'000);
    EXPECT_EQ(list[7].t_us, 3'200'000);
    EXPECT_EQ(list[8].t_us, 3'500'000);
    EXPECT_TRUE(maker.make(1, 0).truth.requests[0].lamp_out);
}

TEST(Flasher, ASlowFirstFlashAndADarkStart) {
    host::Scenario s = clean(SideChange::restart);
    s.flasher.first_dark_us = 300'000;
    s.flasher.first_on_extra_us = 1'000'000;
    s.rider.script = {for_time(Indication::left, 4'000'000)};
    host::RideMaker maker(s);
    const auto list = changes(maker.make(1, 0));
    EXPECT_EQ(list[1].t_us, 300'000);
    EXPECT_EQ(list[2].t_us, 1'800'000);
    EXPECT_EQ(list[3].t_us, 2'300'000);
    EXPECT_EQ(list[4].t_us, 2'800'000);
}

TEST(Flasher, JitterHasTheAskedSpread) {
    host::Scenario s = clean(SideChange::restart);
    s.flasher.jitter_percent = 5;
    s.rider.script = {for_time(Indication::left, 5'000'000'000)};
    host::RideMaker maker(s);
    const auto list = changes(maker.make(1, 0));
    double sum = 0;
    double squares = 0;
    const auto n = static_cast<double>(list.size() - 2);
    for (std::size_t i = 0; i + 2 < list.size(); ++i) {
        const double phase_us = static_cast<double>(list[i + 1].t_us - list[i].t_us);
        sum += phase_us;
        squares += phase_us * phase_us;
    }
    const double mean = sum / n;
    EXPECT_NEAR(mean, 500'000, 1'500);
    EXPECT_NEAR(std::sqrt(squares / n - mean * mean), 25'000, 1'000);
}

TEST(Contacts, ALightOfAMicrosecondBouncesAndStillEnds) {
    host::Scenario s = clean(SideChange::restart);
    s.contacts.bounce_us = 20'000;
    s.contacts.bounce_pulses = 4;
    for (TimeUs lit_us = 1; lit_us <= 12; ++lit_us)
        for (std::uint64_t seed = 1; seed <= 20; ++seed) {
            s.rider.script = {for_time(Indication::left, lit_us), for_time(Indication::off, 1'000'000)};
            const std::vector<Change> list = changes_of(s, seed);
            EXPECT_EQ(list.back().turn, 0) << lit_us;
            for (std::size_t i = 1; i < list.size(); ++i)
                EXPECT_LT(list[i - 1].t_us, list[i].t_us) << lit_us;
        }
}

TEST(Contacts, BounceEndsInTimeAndIsThereOnEveryClosing) {
    host::Scenario s = clean(SideChange::restart);
    s.contacts.bounce_us = 3'000;
    s.contacts.bounce_pulses = 3;
    s.rider.script = {for_time(Indication::left, 20'500'000), for_time(Indication::off, 500'000)};
    host::RideMaker maker(s);
    int closing = 0;
    int opening = 0;
    for (const Change& change : changes(maker.make(1, 0))) {
        EXPECT_LT(change.t_us % 500'000, 3'000) << change.t_us;
        (change.t_us / 500'000 % 2 == 0 ? closing : opening) += 1;
    }
    // 21 closings of 3, 5 or 7 edges, 21 openings of 1 or 3
    EXPECT_GE(closing, 21 * 4);
    EXPECT_LE(closing, 21 * 6);
    EXPECT_GE(opening, 21 + 6);
    EXPECT_LE(opening, 21 + 36);
}

TEST(Contacts, HazardSkewDelaysTheRightSideOnly) {
    host::Scenario s = clean(SideChange::restart);
    s.contacts.rise_skew_us = {12'000, 12'000};
    s.contacts.fall_skew_us = {30'000, 30'000};
    s.rider.script = {for_time(Indication::hazard, 900'000)};
    host::RideMaker maker(s);
    const std::vector<Change> expected{{0, 1}, {12'000, 3}, {500'000, 2}, {530'000, 0}};
    EXPECT_EQ(changes(maker.make(1, 0)), expected);
    EXPECT_EQ(maker.make(1, 0).truth.requests[0].flashes, 2) << "one a side";
}

TEST(Population, EveryTrialDrawsAnotherBikeWithinTheRanges) {
    host::Scenario s = clean(SideChange::restart);
    s.flasher.rate_per_min = {60, 120};
    s.flasher.duty_percent = {30, 75};
    s.rider.script = {for_time(Indication::left, 1'000'000)};
    EXPECT_TRUE(s.is_population());
    host::RideMaker maker(s);
    double least = 1e9;
    double most = 0;
    for (std::uint64_t trial = 0; trial < 500; ++trial) {
        const host::Bike bike = maker.make(3, trial).bike;
        least = std::min(least, bike.period_us());
        most = std::max(most, bike.period_us());
        EXPECT_GE(bike.on_us / bike.period_us(), 0.2999);
        EXPECT_LE(bike.on_us / bike.period_us(), 0.7501);
    }
    EXPECT_NEAR(least, 500e3, 5e3);
    EXPECT_NEAR(most, 1'000e3, 15e3);
}

TEST(RandomStream, DependsOnSeedAndTrialAloneAndNeverChanges) {
    host::RandomStream one(1, 2);
    host::RandomStream same(1, 2);
    host::RandomStream other(1, 3);
    const std::uint64_t first = one();
    EXPECT_EQ(first, same());
    EXPECT_NE(first, other());
    EXPECT_NE(host::RandomStream(2, 1)(), host::RandomStream(1, 2)());
}

} // namespace
