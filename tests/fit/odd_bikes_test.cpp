// Recordings that are not quite what a fit would like.
#include "support.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/measure/fit/report.hpp"

#include <cmath>
#include <fstream>
#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::test;
using host::BikeFit;
using host::Ride;
using host::RideMaker;
using host::Scenario;

Scenario plain_bike() {
    Scenario bike;
    bike.flasher.rate_per_min = 80;
    bike.flasher.duty_percent = 45;
    bike.flasher.jitter_percent = 1;
    bike.rider = some_riding(3);
    return bike;
}

BikeFit fit_of(const Scenario& bike, std::uint64_t seed = 1) {
    RideMaker maker(bike);
    return fitted(maker.make(seed, 0).trace);
}

/// Shares of seeds whose interval covers the truth.
template <class Covered>
double coverage(int seeds, Covered&& covered) {
    int hits = 0;
    for (int seed = 1; seed <= seeds; ++seed)
        hits += covered(static_cast<std::uint64_t>(seed));
    return 100.0 * hits / seeds;
}

class ClockStep : public ::testing::TestWithParam<host::TimeUs> {};

TEST_P(ClockStep, CoarseTimesWidenTheIntervalsAndDoNotCountAsJitter) {
    const double share = coverage(600, [](std::uint64_t seed) {
        Scenario bike = drawn_bike(seed);
        bike.flasher.jitter_percent = std::max(0.5, bike.flasher.jitter_percent / 2);
        bike.contacts.bounce_us = 0;
        RideMaker maker(bike);
        const BikeFit fit = fitted(in_steps_of(GetParam(), maker.make(seed, 0).trace));
        const double drift = bike.flasher.drift_percent_per_min / 100;
        return fit.seen.tick_us == GetParam() &&
               fit.rhythm.duty_percent.covers(bike.flasher.duty_percent.least) &&
               fit.rhythm.jitter_percent.covers(bike.flasher.jitter_percent) &&
               fit.rhythm.period_us.covers(60e6 / bike.flasher.rate_per_min.least *
                                           (1 + drift * fit.rhythm.at_min));
    });
    EXPECT_GE(share, 82) << "three intervals of 95 % at once: 85.7 % if independent, less the spread of 600";
}

INSTANTIATE_TEST_SUITE_P(Step, ClockStep, ::testing::Values(100, 1'000, 5'000));

TEST(Drift, NoneInTheBikeIsSeldomProvenAndAStrongOneIs) {
    Scenario bike = plain_bike();
    bike.rider = some_riding(6);
    const double proven_without =
        coverage(300, [&](std::uint64_t seed) { return fit_of(bike, seed).rhythm.drifts; });
    EXPECT_LE(proven_without, 3) << "99 % sure";
    bike.flasher.drift_percent_per_min = 5;
    EXPECT_EQ(coverage(50, [&](std::uint64_t seed) { return fit_of(bike, seed).rhythm.drifts; }), 100);
}

TEST(LampOut, IsASecondRhythmAndDoesNotBlurTheFirst) {
    Scenario bike = plain_bike();
    bike.rider = some_riding(5);
    bike.flasher.lamp_out_after_flashes = 50;
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        const BikeFit fit = fit_of(bike, seed);
        ASSERT_TRUE(fit.other) << seed;
        EXPECT_TRUE(fit.other->lamp_out);
        EXPECT_NEAR(fit.rhythm.rate_per_min.value, 80, 1);
        EXPECT_NEAR(fit.other->rhythm.rate_per_min.value, 80 * 2.2, 2);
        EXPECT_NEAR(fit.other->rhythm.duty_percent.value, 40, 1);
        EXPECT_LT(fit.rhythm.jitter_percent.value, 1.5);
    }
}

TEST(GroupedFlashes, AreTwoRhythmsThatTakeTurns) {
    Scenario bike = plain_bike();
    bike.flasher.cycle_us = {200'000, 250'000, 200'000, 250'000, 200'000, 850'000};
    bike.rider.script = {rest(500e3), flashes(Indication::left, 30, 30), rest(2e6)};
    bike.rider.repeat = 1;
    const BikeFit fit = fit_of(bike);
    ASSERT_TRUE(fit.other);
    EXPECT_TRUE(fit.other->interleaved);
    EXPECT_FALSE(fit.other->lamp_out);
    EXPECT_NEAR(fit.rhythm.dark_us.value, 850e3, 10e3);
    EXPECT_NEAR(fit.other->rhythm.dark_us.value, 250e3, 3e3);
    EXPECT_EQ(fit.other->group_size, 3);
}

TEST(GroupedFlashes, MakeAScenarioWithTheirPattern) {
    for (const std::size_t group : {2, 3, 4}) {
        Scenario bike = plain_bike();
        for (std::size_t i = 1; i < group; ++i)
            bike.flasher.cycle_us.insert(bike.flasher.cycle_us.end(), {180'000, 220'000});
        bike.flasher.cycle_us.insert(bike.flasher.cycle_us.end(), {180'000, 700'000});
        const std::string path = testing::TempDir() + "winkhold-grouped.toml";
        std::ofstream(path) << host::fit_scenario(fit_of(bike), "grouped", host::Unsure::likeliest);
        const std::vector<TimeUs> fitted_us = host::scenario_of(host::Vehicle::read(path)).flasher.cycle_us;
        ASSERT_EQ(fitted_us.size(), bike.flasher.cycle_us.size()) << group;
        for (std::size_t i = 0; i < fitted_us.size(); ++i)
            EXPECT_NEAR(static_cast<double>(fitted_us[i]), static_cast<double>(bike.flasher.cycle_us[i]),
                        0.02 * static_cast<double>(bike.flasher.cycle_us[i]))
                << group << " flashes, phase " << i;
    }
}

TEST(MissingFlashes, AreCountedAndDoNotBlurTheRhythm) {
    Scenario bike = plain_bike();
    bike.flasher.missing_flash_percent = 4;
    const double share = coverage(200, [&](std::uint64_t seed) {
        const BikeFit fit = fit_of(bike, seed);
        return fit.missing_flash_percent.covers(4) && fit.rhythm.jitter_percent.value < 2 &&
               std::abs(fit.rhythm.rate_per_min.value - 80) < 1;
    });
    EXPECT_GE(share, 93);
}

TEST(ChoppedLights, AreMeasuredAsIfTheyWereNot) {
    Scenario bike = plain_bike();
    bike.contacts.bounce_us = 0;
    bike.taps.pwm_percent = 60;
    for (const double hz : {90.0, 150.0, 400.0, 5'000.0}) {
        bike.taps.pwm_hz = hz;
        const BikeFit fit = fit_of(bike);
        EXPECT_NEAR(fit.rhythm.duty_percent.value, 45, 0.5) << hz;
        EXPECT_NEAR(fit.rhythm.jitter_percent.value, 1, 0.4) << hz;
        ASSERT_TRUE(fit.seen.lines[0].pwm) << hz;
        EXPECT_NEAR(fit.seen.lines[0].pwm->hz, hz, 0.02 * hz);
    }
}

TEST(FirstLight, ThatIsAlwaysLongerIsSaidSo) {
    Scenario bike = plain_bike();
    bike.flasher.first_on_extra_us = {200e3, 500e3};
    const BikeFit fit = fit_of(bike);
    ASSERT_TRUE(fit.first_on_extra_us);
    EXPECT_GT(fit.first_on_extra_us->low, 180e3);
    EXPECT_LT(fit.first_on_extra_us->high, 520e3);
    EXPECT_FALSE(fit_of(plain_bike()).first_on_extra_us);
}

TEST(SideChange, IsUnknownWithoutOne) {
    Scenario bike = plain_bike();
    bike.rider.script = {rest(2e6), flashes(Indication::left, 4, 9), rest(2e6),
                         flashes(Indication::right, 4, 9), rest(2e6)};
    const BikeFit fit = fit_of(bike);
    EXPECT_EQ(fit.side_change.changes, 0);
    EXPECT_FALSE(fit.side_change.model);
}

TEST(SideChange, ACutLightShowsTheTravelOfTheSwitch) {
    Scenario bike = plain_bike();
    bike.flasher.start_delay_us = 5'000;
    bike.rider.transit_us = 90e3;
    int seen = 0;
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        const BikeFit fit = fit_of(bike, seed);
        if (fit.side_change.cut == 0) continue;
        ++seen;
        EXPECT_NEAR(fit.side_change.dark_least_us, 95e3, 5e3) << "bounce may keep the old side lit a little";
        EXPECT_NEAR(fit.side_change.dark_most_us, 95e3, 5e3);
    }
    EXPECT_GT(seen, 10);
}

TEST(TooLittle, IsRefusedAndSaysHowMuchItTakes) {
    Scenario bike = plain_bike();
    for (const int whole_flashes : {0, 1, 5}) {
        bike.rider.script = {rest(1e6), flashes(Indication::left, whole_flashes, whole_flashes), rest(2e6)};
        bike.rider.repeat = 1;
        RideMaker maker(bike);
        const Ride& ride = maker.make(1, 0);
        if (whole_flashes == 5) {
            EXPECT_NO_THROW(fitted(ride.trace));
            continue;
        }
        try {
            fitted(ride.trace);
            FAIL() << whole_flashes;
        } catch (const host::InputError& error) {
            EXPECT_NE(std::string(error.what()).find("four whole flashes in a row"), std::string::npos);
        }
    }
}

TEST(OneLine, IsEnough) {
    Scenario bike = plain_bike();
    RideMaker maker(bike);
    host::Trace trace = maker.make(1, 0).trace;
    for (host::Edge& edge : trace.edges)
        edge.lines = edge.lines.with(core::Lines::right, false);
    const BikeFit fit = fitted(trace);
    EXPECT_NEAR(fit.rhythm.rate_per_min.value, 80, 0.5);
    EXPECT_FALSE(fit.rise_skew);
    EXPECT_FALSE(fit.side_change.model);
}

} // namespace
