// Simulated volts through the network of [front_end].
#include "waveform/support.hpp"

#include <cmath>
#include <gtest/gtest.h>
#include <set>

namespace {

using namespace winkhold;
using namespace winkhold::test;
using List = std::vector<Change>;

/// Read through 100 kohm and 50 kohm, 10 nF, 2 V and 1 V at the pin, no
/// tolerances.
host::Scenario one_flash() {
    host::Scenario s = one_flash_in_volts();
    host::FrontEnd& f = s.volts.front_end.emplace();
    f.top_kohm = 100;
    f.bottom_kohm = 50;
    f.capacitor_nf = 10;
    f.resistor_percent = f.capacitor_percent = 0;
    f.clamp = host::ClampKind::none;
    f.input = host::InputKind::schmitt;
    f.rise_v = host::Range{2};
    f.fall_v = host::Range{1};
    return s;
}

double rise_us(const host::Scenario& s) {
    return static_cast<double>(changes_of(s).at(1).t_us) - 100'000;
}
double fall_us(const host::Scenario& s) {
    return static_cast<double>(changes_of(s).at(2).t_us) - 600'000;
}

constexpr double lit_tau_us = 1e6 * 10e-9 * 100e3 / 3;

TEST(FrontEndVolts, ALitLineChargesThroughBothResistors) {
    EXPECT_NEAR(rise_us(one_flash()), lit_tau_us * std::log(4 / (4 - 2.0)), 1);
}

TEST(FrontEndVolts, ALetGoLineDischargesThroughTheBottomResistorAlone) {
    EXPECT_NEAR(fall_us(one_flash()), 500 * std::log(4 / 1.0), 1);
}

TEST(FrontEndVolts, ABleederDischargesThroughBoth) {
    host::Scenario s = one_flash();
    s.volts.front_end->bleeder_ohm = 1'000;
    const double tau_us = 1e6 * 10e-9 * 101e3 * 50e3 / 151e3;
    EXPECT_NEAR(fall_us(s), tau_us * std::log(4 / 1.0), 1);
}

TEST(FrontEndVolts, APullUpWithoutBleederNeverLetsTheLineReadLow) {
    host::Scenario s = one_flash();
    s.volts.front_end->pull_up_kohm = 3.6;
    EXPECT_EQ(changes_of(s), (List{{0, 3}})) << "both lines are lifted to 11.7 V";
    s.volts.front_end->bleeder_ohm = 680; // 1.9 V, 0.64 V at the pin
    EXPECT_EQ(changes_of(s).size(), 3u);
}

TEST(FrontEndVolts, AClampShortensTheFall) {
    host::Scenario s = one_flash();
    s.volts.front_end->clamp = host::ClampKind::zener;
    s.volts.front_end->zener_v = host::Range{2.5};
    EXPECT_NEAR(rise_us(s), lit_tau_us * std::log(4 / (4 - 2.0)), 1) << "below the clamp nothing changes";
    EXPECT_NEAR(fall_us(s), 500 * std::log(2.5 / 1.0), 1);
}

/// When a tap of the ride changes.
std::vector<TimeUs> moments_of(const host::Scenario& s, core::Lines::Tap tap) {
    host::RideMaker maker(s);
    std::vector<TimeUs> moments;
    bool was = false;
    for (const host::Edge& edge : maker.make(1, 0).trace.edges) {
        if (edge.lines.has(tap) == was) continue;
        was = !was;
        moments.push_back(edge.t_us);
    }
    return moments;
}

TEST(FrontEndVolts, TheBrakeIsAsLateAsItsNetwork) {
    host::Scenario s = one_flash();
    s.rider.brake = {{300'000, 500'000}};
    for (const double nf : {10.0, 330.0}) {
        s.volts.front_end->capacitor_nf = nf;
        const std::vector<TimeUs> brake = moments_of(s, core::Lines::brake);
        ASSERT_EQ(brake.size(), 2u);
        EXPECT_NEAR(static_cast<double>(brake[0]), 300'000 + nf / 10 * lit_tau_us * std::log(2), 1);
        EXPECT_NEAR(static_cast<double>(brake[1]), 800'000 + nf / 10 * 500 * std::log(4 / 1.0), 1);
    }
}

TEST(FrontEndVolts, ABrakeOnTheGroundSideReadsLitAfterTheFall) {
    host::Scenario s = one_flash();
    s.rider.brake = {{300'000, 500'000}};
    s.volts.front_end->active_low[static_cast<std::size_t>(host::TappedLine::brake)] = true;
    const std::vector<TimeUs> brake = moments_of(s, core::Lines::brake);
    ASSERT_EQ(brake.size(), 2u);
    EXPECT_NEAR(static_cast<double>(brake[0]), 300'000 + lit_tau_us * std::log(4 / 1.0), 1);
    EXPECT_NEAR(static_cast<double>(brake[1]), 800'000 + lit_tau_us * std::log(2), 1);
}

TEST(FrontEndVolts, TurnLinesOnTheGroundSideReadLitAfterTheFall) {
    host::Scenario s = one_flash();
    s.volts.front_end->active_low[0] = s.volts.front_end->active_low[1] = true;
    EXPECT_EQ(changes_of(s).size(), 3u);
    EXPECT_NEAR(rise_us(s), lit_tau_us * std::log(4 / 1.0), 1);
    EXPECT_NEAR(fall_us(s), lit_tau_us * std::log(2), 1);
}

TEST(FrontEndVolts, LeverAndPedalAreOneLineOrTwoTaps) {
    host::Scenario s = one_flash();
    s.rider.brake = {{300'000, 500'000}, {600'000, 400'000, true}};
    for (const bool apart : {false, true}) {
        s.volts.front_end->second_brake = apart;
        const std::vector<TimeUs> brake = moments_of(s, core::Lines::brake);
        ASSERT_EQ(brake.size(), 2u) << "the pedal holds on as the lever lets go";
        EXPECT_NEAR(static_cast<double>(brake[0]), 300'000 + lit_tau_us * std::log(2), 1);
        EXPECT_NEAR(static_cast<double>(brake[1]), 1'000'000 + 500 * std::log(4), 1);
    }
    s.volts.front_end->active_low[static_cast<std::size_t>(host::TappedLine::second_brake)] = true;
    s.rider.brake = {{300'000, 100'000}, {600'000, 400'000, true}};
    const std::vector<TimeUs> brake = moments_of(s, core::Lines::brake);
    ASSERT_EQ(brake.size(), 4u);
    EXPECT_NEAR(static_cast<double>(brake[2]), 600'000 + lit_tau_us * std::log(4), 1);
}

TEST(FrontEndVolts, TheTailIsLitFromTheStartAndGoesWithTheSupply) {
    host::Scenario s = one_flash();
    s.rider.tail = true;
    EXPECT_EQ(moments_of(s, core::Lines::tail), std::vector<TimeUs>{0});
    s.volts.key_off_at_us = 1'500'000;
    const std::vector<TimeUs> tail = moments_of(s, core::Lines::tail);
    ASSERT_EQ(tail.size(), 2u);
    EXPECT_GE(tail[1], 1'500'000);
}

TEST(FrontEndVolts, PartsAreDrawnWithinTheirTolerancesForEachRide) {
    host::Scenario s = one_flash();
    s.volts.front_end->capacitor_percent = 20;
    std::set<double> seen;
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        const double us = static_cast<double>(changes_of(s, seed).at(1).t_us) - 100'000;
        EXPECT_GE(us, 0.8 * lit_tau_us * std::log(2));
        EXPECT_LE(us, 1.2 * lit_tau_us * std::log(2) + 1);
        seen.insert(us);
    }
    EXPECT_GT(seen.size(), 30u);
    EXPECT_EQ(changes_of(s, 7), changes_of(s, 7));
}

} // namespace
