// The board's supply, PWM, reset, and the flasher's load.
#include "winkhold/bike/electrics/check.hpp"
#include "winkhold/bike/electrics/detail/judge_board.hpp"
#include "winkhold/bike/electrics/supply.hpp"

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
    b.reverse_v = 150;
    b.regulator_most_v = 40;
    b.tvs_v = 40;
    b.awg = 18;
    b.length_m = 1;
    return b;
}

Checks supply_of(const Board& board) {
    Checks checks;
    judge_board_supply(board, 0, 1'000, checks);
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
    b.reverse_v = 149;
    EXPECT_EQ(find(supply_of(b), "part blocks")->verdict, CheckVerdict::finding);
    b = known();
    b.tvs_v.reset();
    EXPECT_EQ(find(supply_of(b), "load dump")->verdict, CheckVerdict::finding) << "101 V into 40 V";
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
    b.pwm_hz = 2'000;
    b.shift_hz = 8 * 256 * 2'000.0 - 1;
    EXPECT_EQ(find(drivers_of(b, LampDriver::shift_register, 100), "256 levels")->verdict,
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
    judge_flasher_load(load, std::numeric_limits<double>::infinity(), checks);
    EXPECT_NE(checks.back().advice.find("load resistor of 1000 ohm"), std::string::npos)
        << checks.back().advice;
}

} // namespace
