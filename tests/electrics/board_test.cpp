// The board's supply, PWM, reset, and the flasher's load.
#include "winkhold/bike/electrics/check.hpp"
#include "winkhold/bike/electrics/detail/judge_board.hpp"
#include "winkhold/bike/electrics/e24.hpp"
#include "winkhold/bike/electrics/supply.hpp"

#include <cmath>
#include <cstdio>
#include <gtest/gtest.h>
#include <limits>

namespace {

using namespace winkhold;
using namespace winkhold::host;

const Check* find(const Checks& checks, const std::string& what) {
    for (const Check& check : checks)
        if (check.what.find(what) != std::string::npos) return &check;
    return nullptr;
}

Board known() {
    Board b;
    b.board_ma = 100;
    b.regulator = Regulator::linear;
    b.regulator_v = 5;
    b.dropout_v = 0.5;
    b.thermal_c_per_w = 50;
    b.ambient_c = 60;
    b.least_v = 2.7;
    b.reverse = ReversePart::schottky;
    b.reverse_v = 163.5;
    b.regulator_most_v = 40;
    b.tvs_v = 40;
    b.awg = 18;
    b.length_m = 1;
    return b;
}

Checks supply_of(const Board& board) {
    Checks checks;
    judge_board_supply(board, {}, {}, checks);
    return checks;
}

TEST(BoardSupply, LinearRegulatorHeatsByWhatItDrops) {
    Board b = known(); // (16 - 0.4 - 5) V x 0.1 A = 1.06 W, 53 C above 60
    const Checks checks = supply_of(b);
    EXPECT_NEAR(*find(checks, "junction")->value, 113, 1e-9);
    for (const Check& check : checks)
        EXPECT_EQ(check.verdict, CheckVerdict::passed) << check.what;
    b.ambient_c = 72.1;
    EXPECT_EQ(find(supply_of(b), "junction")->verdict, CheckVerdict::finding);
    b.regulator = Regulator::switching;
    EXPECT_EQ(find(supply_of(b), "junction")->verdict, CheckVerdict::not_judged)
        << "its efficiency is not known";
    b.efficiency_percent = 80; // 0.5 W out, 0.125 W lost
    EXPECT_NEAR(*find(supply_of(b), "junction")->value, 72.1 + 0.125 * 50, 1e-9);
}

TEST(BoardSupply, ReversePolarityAndLoadDumpNeedParts) {
    Board b = known();
    b.reverse = ReversePart::none;
    EXPECT_EQ(find(supply_of(b), "reverse polarity does")->verdict, CheckVerdict::finding);
    b = known();
    b.reverse_v = 113.5; // pulse 1 of -100 V and 13.5 V in the capacitor
    EXPECT_EQ(find(supply_of(b), "blocks pulse 1")->verdict, CheckVerdict::passed);
    EXPECT_EQ(find(supply_of(b), "blocks pulse 3a")->verdict, CheckVerdict::finding) << "-150 V for 0.1 us";
    b.reverse_v = 113.4;
    EXPECT_EQ(find(supply_of(b), "blocks pulse 1")->verdict, CheckVerdict::finding);
    b = known();
    b.tvs_v.reset();
    EXPECT_EQ(find(supply_of(b), "load dump")->verdict, CheckVerdict::finding) << "87 V into 40 V";
    EXPECT_EQ(find(supply_of(Board{}), "reverse polarity")->verdict, CheckVerdict::not_judged);
    EXPECT_EQ(find(supply_of(Board{}), "load dump")->verdict, CheckVerdict::not_judged);
    EXPECT_EQ(find(supply_of(Board{}), "crank")->verdict, CheckVerdict::not_judged);
    EXPECT_EQ(find(supply_of(Board{}), "wire and fuse")->verdict, CheckVerdict::not_judged);
}

TEST(BoardSupply, CrankDipIsStoodByDropoutOrCapacitor) {
    Board b = known();
    b.least_v = 4.5; // the plateau leaves 6 - 0.4 - 0.5 = 5.1 V, the dip 4.1 V
    EXPECT_EQ(find(supply_of(b), "plateau")->verdict, CheckVerdict::passed);
    EXPECT_EQ(find(supply_of(b), "bulk capacitor")->verdict, CheckVerdict::finding);
    b.bulk_uf = 100.0 * 40 / (9 - 0.4 - 4.5 - 0.5); // C = I t / dV
    EXPECT_EQ(find(supply_of(b), "bulk capacitor")->verdict, CheckVerdict::passed);
    b.bulk_uf *= 0.99;
    EXPECT_EQ(find(supply_of(b), "bulk capacitor")->verdict, CheckVerdict::finding);
    b.dropout_v = 1.2;
    EXPECT_EQ(find(supply_of(b), "plateau")->verdict, CheckVerdict::finding);
}

Checks drivers_of(const Board& board, LampDriver driver, std::uint8_t brightness) {
    Lamps lamps(1);
    lamps[0].driver = driver;
    lamps[0].plays.full = brightness;
    lamps[0].plays.pattern = core::outward(30'000);
    lamps[0].plays.count = 6;
    PinLoad pin;
    pin.pin = "SR1";
    pin.driver = driver;
    pin.strings = 6;
    pin.most_ma = 120;
    Checks checks;
    judge_drivers(board, lamps, {pin}, checks);
    return checks;
}

// Phantom arrays peak at 500-1000 Hz; 490 and 977 Hz of a 16 MHz timer at /64 sit there, /8 does not.
TEST(Drivers, PwmOfATimerAt64IsWherePhantomArraysAre) {
    const auto verdict = [](double hz) {
        Board b;
        b.pwm_hz = hz;
        return find(drivers_of(b, LampDriver::transistor, 100), "phantom")->verdict;
    };
    EXPECT_EQ(verdict(490), CheckVerdict::finding);
    EXPECT_EQ(verdict(977), CheckVerdict::finding);
    EXPECT_EQ(verdict(3'906), CheckVerdict::passed);
    EXPECT_EQ(verdict(7'812), CheckVerdict::passed);
    EXPECT_EQ(find(drivers_of(Board{}, LampDriver::transistor, 100), "PWM")->verdict,
              CheckVerdict::not_judged);
    EXPECT_EQ(find(drivers_of(Board{}, LampDriver::transistor, 255), "PWM"), nullptr) << "nothing is dimmed";
}

TEST(Drivers, RegistersAreRefreshedWithinAStep) {
    Board b;
    EXPECT_EQ(find(drivers_of(b, LampDriver::shift_register, 255), "refresh")->verdict,
              CheckVerdict::not_judged);
    b.shift_hz = 8 / 0.030;
    EXPECT_EQ(find(drivers_of(b, LampDriver::shift_register, 255), "refresh")->verdict, CheckVerdict::passed);
    b.shift_hz = 8 / 0.0301;
    EXPECT_EQ(find(drivers_of(b, LampDriver::shift_register, 255), "refresh")->verdict,
              CheckVerdict::finding);
}

TEST(Drivers, DarkInResetTakesAResistor) {
    const std::pair<LampDriver, const char*> rows[] = {{LampDriver::transistor, "transistors are off"},
                                                       {LampDriver::shift_register, "registers are off"}};
    for (const auto& [driver, what] : rows) {
        Board b;
        EXPECT_EQ(find(drivers_of(b, driver, 255), what)->verdict, CheckVerdict::not_judged);
        b.gate_pulldown_kohm = b.enable_pullup_kohm = 0;
        EXPECT_EQ(find(drivers_of(b, driver, 255), what)->verdict, CheckVerdict::finding);
        b.gate_pulldown_kohm = b.enable_pullup_kohm = 10;
        EXPECT_EQ(find(drivers_of(b, driver, 255), what)->verdict, CheckVerdict::passed);
    }
}

TEST(FlasherLoad, CountsTheLampsLeftAndTheBleeder) {
    FlasherLoad load;
    Checks checks;
    judge_flasher_load(load, 1'000, checks);
    EXPECT_EQ(checks.back().verdict, CheckVerdict::not_judged);
    load.least_w = 10;
    load.kept_w = 10 - 13.5 * 13.5 / 1'000;
    judge_flasher_load(load, 1'000, checks);
    EXPECT_EQ(checks.back().verdict, CheckVerdict::passed);
    judge_flasher_load(load, 1'001, checks);
    EXPECT_EQ(checks.back().verdict, CheckVerdict::finding);
}

/// "... a load resistor of 33 ohm (E24, 5 %) for 25 W or more"
struct Advised {
    double ohm;
    double watts;
};
Advised advised(const std::string& advice) {
    Advised read{};
    const std::size_t at = advice.find("resistor of ");
    if (at == std::string::npos) return read;
    EXPECT_EQ(
        std::sscanf(advice.c_str() + at, "resistor of %lf ohm (E24, 5 %%) for %lf W", &read.ohm, &read.watts),
        2)
        << advice;
    return read;
}

// IEC 60063, E24; P = V^2 / R.
TEST(FlasherLoad, TheResistorItAdvisesMeetsItsLimit) {
    for (const double lacks_w : {0.5, 3.0, 5.0, 7.7, 15.0, 19.9}) {
        FlasherLoad load{.least_w = 20, .kept_w = 20 - lacks_w};
        Checks checks;
        judge_flasher_load(load, std::numeric_limits<double>::infinity(), checks);
        ASSERT_EQ(checks.back().verdict, CheckVerdict::finding);
        const Advised fit = advised(checks.back().advice);
        ASSERT_GT(fit.ohm, 0) << checks.back().advice;
        EXPECT_DOUBLE_EQ(e24_up(fit.ohm), fit.ohm);
        EXPECT_GE(fit.watts, 2 * 256 / fit.ohm);
        judge_flasher_load(load, fit.ohm * 1.05, checks);
        EXPECT_EQ(checks.back().verdict, CheckVerdict::passed) << fit.ohm;
        judge_flasher_load(load, fit.ohm * 1.05 * 1.12, checks);
        EXPECT_EQ(checks.back().verdict, CheckVerdict::finding) << "the next value would not do";
    }
}

LampGroup lit(int count) {
    LampGroup g;
    g.name = "lamps";
    g.plays.count = static_cast<std::uint16_t>(count);
    g.colour = LampColour::amber;
    g.led_v = 2.1;
    g.led_ma = 20;
    g.in_series = 1;
    g.feed = LampFeed::resistor;
    g.driver = LampDriver::transistor;
    return g;
}

// A capacitor C that feeds I = a + b V from V0 down to V1 lasts C / b ln((a + b V0) / (a + b V1)) (textbook).
TEST(BulkCapacitor, FeedsTheLampsOnItsNodeToo) {
    Board b = known();
    b.bulk_uf = 470;
    b.least_v = 4.4;
    const Lamps lamps{lit(12)};
    Checks checks;
    const std::vector<GroupLoad> groups{
        strings_of(lamps[0], b.feeds(LampDriver::transistor).value(), checks)};
    const double ohm = *groups[0].strings[0].resistor_ohm;
    const double slope = 12 / ohm; // volts of the node, behind the diode
    const double offset = 0.1 - 12 * 2.1 / ohm;
    const double from_v = 9 - 0.4, to_v = 4.4 + 0.5;
    const double alone_ms = 470e-6 * (from_v - to_v) / 0.1 * 1e3;
    const double ms = 470e-6 / slope * std::log((offset + slope * from_v) / (offset + slope * to_v)) * 1e3;
    EXPECT_NEAR(hold_up_ms(b, lamps, groups, false), ms, 1e-4 * ms);
    EXPECT_LT(hold_up_ms(b, lamps, groups, true), ms) << "parts that let more through";
    EXPECT_NEAR(hold_up_ms(b, {}, {}, true), alone_ms, 1e-9 * alone_ms);
    b.bulk_feeds = BulkFeeds::board; // behind 0.4 V of its own
    EXPECT_NEAR(hold_up_ms(b, lamps, groups, true), alone_ms * (from_v - 0.4 - to_v) / (from_v - to_v), 1e-6);
}

// A switching regulator takes P / (efficiency V): C (V0^2 - V1^2) / 2 = P t / efficiency (textbook).
TEST(BulkCapacitor, ASwitchingRegulatorTakesMoreOfALowerVoltage) {
    Board b = known();
    b.regulator = Regulator::switching;
    b.efficiency_percent = 80;
    b.bulk_uf = 470;
    b.least_v = 4.4;
    const double joule = 470e-6 * (8.6 * 8.6 - 4.9 * 4.9) / 2;
    EXPECT_NEAR(hold_up_ms(b, {}, {}, true), joule / (5 * 0.1 / 0.8) * 1e3, 1e-3);
    EXPECT_NEAR(b.input_ma(100, 8.6), 100 * 5 / (0.8 * 8.6), 1e-9);
    const Checks checks = supply_of(b);
    const Check* wire = find(checks, "current of its AWG");
    ASSERT_NE(wire, nullptr);
    EXPECT_NEAR(*wire->value, 0.1 * 5 / (0.8 * 8.6), 1e-9) << "at 9 V";
}

} // namespace
