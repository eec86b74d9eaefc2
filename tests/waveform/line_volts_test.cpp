#include "waveform/support.hpp"

#include "winkhold/measure/waveform/line_volts.hpp"

#include <cmath>
#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::test;
using List = std::vector<Change>;

constexpr double tau_us = 1'000;

/// Time from a step until v = to + (from - to) exp(-t / tau) is at `at`.
double step_us(double from, double to, double at, double tau = tau_us) {
    return tau * std::log((from - to) / (at - to));
}

TEST(LineVolts, TheFilterDelaysBothEdgesByTheClosedForm) {
    const List list = changes_of(one_flash_in_volts());
    ASSERT_EQ(list.size(), 3u);
    EXPECT_NEAR(static_cast<double>(list[1].t_us), 100'000 + step_us(0, 12, 5), 1);
    EXPECT_NEAR(static_cast<double>(list[2].t_us), 600'000 + step_us(12, 0, 3.5), 1);
}

TEST(LineVolts, WithoutFilterLevelsAreAsTheyWere) {
    host::Scenario s = one_flash_in_volts();
    s.volts.filter_tau_us = 0;
    EXPECT_EQ(changes_of(s), (List{{0, 0}, {100'000, 1}, {600'000, 0}}));
}

TEST(LineVolts, ASlowFallAloneTakesItsOwnTime) {
    host::Scenario s = one_flash_in_volts();
    s.volts.filter_tau_us = 0;
    s.volts.fall_tau_us = 12'000;
    EXPECT_NEAR(static_cast<double>(changes_of(s)[2].t_us), 600'000 + step_us(12, 0, 3.5, 12'000), 1);
}

TEST(LineVolts, ASlowFallThroughTheFilterIsTheTwoPoleResponse) {
    for (const double fall_us : {100.0, 1'000.0, 12'000.0}) {
        host::Scenario s = one_flash_in_volts();
        s.volts.fall_tau_us = fall_us;
        // stepped on its own, far finer than the answer's microsecond
        double input = 12;
        double output = 12;
        double t_us = 0;
        constexpr double dt_us = 0.01;
        while (output >= 3.5) {
            output += (input - output) * dt_us / tau_us;
            input -= input * dt_us / fall_us;
            t_us += dt_us;
        }
        EXPECT_NEAR(static_cast<double>(changes_of(s)[2].t_us), 600'000 + t_us, 2) << fall_us;
    }
}

TEST(LineVolts, AGhostBetweenTheThresholdsHoldsTheLineHigh) {
    host::Scenario s = one_flash_in_volts();
    s.volts.dark_v = 4;
    EXPECT_EQ(changes_of(s).size(), 2u) << "rises once, never falls";
    s.volts.dark_v = 3.4;
    EXPECT_EQ(changes_of(s).size(), 3u);
    s.volts.dark_v = 6;
    EXPECT_EQ(changes_of(s), (List{{0, 3}}));
}

TEST(LineVolts, CrossFeedLightsTheIdleSideOnceItPassesTheThreshold) {
    host::Scenario s = one_flash_in_volts();
    s.volts.filter_tau_us = 0;
    s.volts.cross_feed = 0.41; // 4.92 V
    EXPECT_EQ(changes_of(s), (List{{0, 0}, {100'000, 1}, {600'000, 0}}));
    s.volts.cross_feed = 0.42; // 5.04 V
    EXPECT_EQ(changes_of(s), (List{{0, 0}, {100'000, 3}, {600'000, 0}}));
}

TEST(LineVolts, ASaturatedInputRisesLaterAndFallsSooner) {
    host::Scenario s = one_flash_in_volts();
    s.volts.clamp_v = 5.2;
    const List list = changes_of(s);
    EXPECT_NEAR(static_cast<double>(list[1].t_us), 100'000 + step_us(0, 5.2, 5), 1);
    EXPECT_NEAR(static_cast<double>(list[2].t_us), 600'000 + step_us(5.2, 0, 3.5), 1);
    s.volts.fall_tau_us = 12'000; // stays at the clamp until the line has come down to it
    EXPECT_GT(changes_of(s)[2].t_us, 600'000 + step_us(12, 0, 5.2, 12'000));
    s.volts.clamp_v = 4.9;
    EXPECT_EQ(changes_of(s).size(), 1u) << "saturates below the threshold: never seen";
}

TEST(LineVolts, SpikesBelowTheFilterPassNothing) {
    host::Scenario s = one_flash_in_volts();
    s.volts.clamp_v = 16;
    s.volts.spikes_per_s = 200;
    s.volts.spike_v = 60;
    s.volts.spike_us = 200; // 16 V for 0.2 ms reaches 2.9 V
    EXPECT_EQ(changes_of(s).size(), 3u);
    s.volts.spike_us = 2'000;
    EXPECT_GT(changes_of(s).size(), 100u);
}

TEST(LineVolts, ADipTakesSupplyAndLitLineDown) {
    host::Scenario s = one_flash_in_volts();
    s.volts.filter_tau_us = 0;
    s.volts.dip_every_us = 300'000;
    s.volts.dip_us = 50'000;
    host::RideMaker maker(s);
    const host::Ride& ride = maker.make(1, 0);
    EXPECT_EQ(changes(ride)[2], (Change{300'000, 0}));
    EXPECT_EQ(changes(ride)[3], (Change{350'000, 1}));
    for (const host::Edge& edge : ride.trace.edges)
        EXPECT_EQ(edge.lines.has(core::Lines::supply), edge.t_us % 350'000 < 300'000) << edge.t_us;
}

TEST(LineVolts, KeyOffTakesEverythingWithinItsSpreadAndEndsTheRequest) {
    host::Scenario s = one_flash_in_volts();
    s.volts.filter_tau_us = 0;
    s.volts.key_off_at_us = 300'000;
    host::RideMaker maker(s);
    const host::Ride& ride = maker.make(1, 0);
    EXPECT_EQ(ride.truth.requests.back().end_us, 300'000);
    EXPECT_EQ(ride.trace.edges.back().lines.bits(), 0);
    EXPECT_GE(ride.trace.edges.back().t_us, 300'000);
    EXPECT_LE(ride.trace.edges.back().t_us, 305'000);
}

TEST(LineVolts, CrankingPullsTheSupplyDownAndBackUp) {
    host::Scenario s = one_flash_in_volts();
    s.volts.crank_at_us = 200'000;
    host::RideMaker maker(s);
    std::vector<TimeUs> down;
    for (const host::Edge& edge : maker.make(1, 0).trace.edges)
        if (!edge.lines.has(core::Lines::supply)) down.push_back(edge.t_us);
    ASSERT_FALSE(down.empty());
    EXPECT_GT(down.front(), 200'000);
    EXPECT_LT(down.back(), 262'000);
}

} // namespace
