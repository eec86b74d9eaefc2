// Lamp strings, pins, wires and battery, against worked examples and published tables.
#include "winkhold/bike/electrics/detail/judge_board.hpp"
#include "winkhold/bike/electrics/e24.hpp"
#include "winkhold/bike/electrics/strings.hpp"
#include "winkhold/bike/electrics/wire.hpp"

#include <cmath>
#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::host;

LampGroup group(LampColour colour, int count, int in_series) {
    LampGroup g;
    g.name = "lamps";
    g.plays.count = static_cast<std::uint16_t>(count);
    constexpr double volts[] = {2.1, 2.0, 3.3}; // amber, red, white at 20 mA: common practice, no source
    g.colour = colour;
    g.led_v = volts[static_cast<std::size_t>(colour)];
    g.led_ma = 20;
    g.in_series = in_series;
    g.feed = LampFeed::resistor;
    g.driver = LampDriver::transistor;
    g.pins = {"D9"};
    return g;
}

GroupLoad load_of(const LampGroup& g, const StringSupply& supply = {}) {
    Checks checks;
    return strings_of(g, supply, checks);
}

const Check* find(const Checks& checks, const std::string& what) {
    for (const Check& check : checks)
        if (check.what.find(what) != std::string::npos) return &check;
    return nullptr;
}

// Worked example at 14.4 V, 20 mA, next E24 up (derived).
TEST(Strings, ResistorsAreThoseOfTheWorkedExample) {
    EXPECT_DOUBLE_EQ(*load_of(group(LampColour::amber, 2, 2)).strings[0].resistor_ohm, 510);
    EXPECT_DOUBLE_EQ(*load_of(group(LampColour::amber, 3, 3)).strings[0].resistor_ohm, 430);
    EXPECT_DOUBLE_EQ(*load_of(group(LampColour::red, 3, 3)).strings[0].resistor_ohm, 430);
    EXPECT_DOUBLE_EQ(*load_of(group(LampColour::white, 2, 2)).strings[0].resistor_ohm, 390);
}

// Worked example: 24 turn, 18 stop, 10 marker LEDs draw 1040 mA one by one, 380 mA in strings of 3, 3 and 2.
TEST(Strings, TheDemoSetDrawsAsWorkedOut) {
    const auto strings = [](int amber, int red, int white) {
        return load_of(group(LampColour::amber, 24, amber)).string_count() +
               load_of(group(LampColour::red, 18, red)).string_count() +
               load_of(group(LampColour::white, 10, white)).string_count();
    };
    EXPECT_EQ(20 * strings(1, 1, 1), 1040);
    EXPECT_EQ(20 * strings(3, 3, 2), 380);
}

// IEC 60063, E24.
TEST(Strings, PreferredValuesAreTheNextOnes) {
    EXPECT_DOUBLE_EQ(e24_up(510), 510);
    EXPECT_DOUBLE_EQ(e24_up(510.01), 560);
    EXPECT_DOUBLE_EQ(e24_up(91.1), 100);
    EXPECT_DOUBLE_EQ(e24_up(1e6), 1e6);
    EXPECT_DOUBLE_EQ(e24_up(405), 430);
    EXPECT_DOUBLE_EQ(e24_down(909), 820);
    EXPECT_DOUBLE_EQ(e24_down(910), 910);
    EXPECT_DOUBLE_EQ(e24_down(1000), 1000);
    EXPECT_DOUBLE_EQ(e24_down(999), 910);
}

TEST(Strings, CurrentsSpanSupplyLedAndResistor) {
    const LampString s = load_of(group(LampColour::amber, 3, 3)).strings[0];
    EXPECT_NEAR(s.nominal_ma, (14.4 - 6.3) / 430 * 1e3, 1e-9);
    EXPECT_NEAR(s.ma.least, (9 - 6.6) / (430 * 1.05) * 1e3, 1e-9);
    EXPECT_NEAR(s.ma.most, (16 - 6.0) / (430 * 0.95) * 1e3, 1e-9);
    EXPECT_NEAR(s.heat_w, std::pow(16 - 6.0, 2) / (430 * 0.95), 1e-9);
    EXPECT_DOUBLE_EQ(*s.resistor_rating_w, 0.5) << "the next one from twice 0.245 W";
}

TEST(Strings, ARestMakesAShorterStringWithAResistorOfItsOwn) {
    const GroupLoad load = load_of(group(LampColour::amber, 8, 3));
    ASSERT_EQ(load.strings.size(), 2u);
    EXPECT_EQ(load.strings[0].count, 2);
    EXPECT_EQ(load.strings[1].leds, 2);
    EXPECT_DOUBLE_EQ(*load.strings[1].resistor_ohm, 510);
    EXPECT_NEAR(load.most_ma, 2 * load.strings[0].ma.most + load.strings[1].ma.most, 1e-9);
}

TEST(Strings, TooManyInSeriesAreAFinding) {
    Checks checks;
    const GroupLoad load = strings_of(group(LampColour::white, 5, 5), {}, checks); // 16.5 V
    EXPECT_FALSE(load.known());
    EXPECT_EQ(find(checks, "in series light")->verdict, CheckVerdict::finding);
    checks.clear();
    strings_of(group(LampColour::white, 3, 3), {}, checks); // 9.9 V: dark at 9 V
    EXPECT_EQ(find(checks, "current at 9 V")->verdict, CheckVerdict::finding);
}

TEST(Strings, LampsThatLightInTurnMustNotShareAString) {
    LampGroup g = group(LampColour::amber, 6, 3);
    const auto verdict = [&] {
        Checks checks;
        strings_of(g, {}, checks);
        const Check* check = find(checks, "one after the other");
        return check ? check->verdict : CheckVerdict::not_judged;
    };
    g.plays.pattern = core::outward(30'000);
    EXPECT_EQ(verdict(), CheckVerdict::finding);
    g.plays.pattern = core::in_blocks(3, 30'000);
    EXPECT_EQ(verdict(), CheckVerdict::passed);
    g.plays.pattern = core::in_blocks(2, 30'000);
    EXPECT_EQ(verdict(), CheckVerdict::finding);
}

TEST(Strings, ConstantCurrentHoldsWhileThereIsHeadroom) {
    LampGroup g = group(LampColour::amber, 3, 3);
    g.feed = LampFeed::constant_current;
    StringSupply supply;
    Checks checks;
    strings_of(g, supply, checks);
    EXPECT_EQ(find(checks, "constant current holds")->verdict, CheckVerdict::not_judged);
    EXPECT_EQ(find(checks, "heat in the constant-current part")->verdict, CheckVerdict::not_judged);
    for (const double headroom_v : {2.4, 2.41}) { // 3 x 2.2 V and 9 V of supply
        supply.headroom_v = headroom_v;
        checks.clear();
        const GroupLoad load = strings_of(g, supply, checks);
        EXPECT_EQ(find(checks, "constant current holds")->verdict,
                  headroom_v == 2.4 ? CheckVerdict::passed : CheckVerdict::finding);
        EXPECT_DOUBLE_EQ(load.nominal_ma, 20);
        EXPECT_NEAR(load.strings[0].heat_w, 0.02 * (16 - 6.0), 1e-12);
    }
}

TEST(Strings, WhatIsNotKnownIsNotJudged) {
    const auto forget = [](auto&& change) {
        LampGroup g = group(LampColour::amber, 6, 1);
        change(g);
        Checks checks;
        const bool known = strings_of(g, {}, checks).known();
        return !known && checks.size() == 1 && checks[0].verdict == CheckVerdict::not_judged;
    };
    EXPECT_TRUE(forget([](LampGroup& g) { g.led_ma.reset(); }));
    EXPECT_TRUE(forget([](LampGroup& g) { g.led_v.reset(); }));
    EXPECT_TRUE(forget([](LampGroup& g) { g.in_series.reset(); }));
    EXPECT_TRUE(forget([](LampGroup& g) { g.feed.reset(); }));
}

TEST(Pins, StringsAreDealtToPinsInTurn) {
    Lamps lamps{group(LampColour::red, 18, 3), group(LampColour::amber, 2, 1)};
    lamps[0].pins = {"D9", "D10"};
    lamps[1].pins = {"D9"};
    const std::vector<GroupLoad> loads{load_of(lamps[0]), load_of(lamps[1])};
    const std::vector<PinLoad> pins = pins_of(lamps, loads);
    ASSERT_EQ(pins.size(), 2u);
    EXPECT_EQ(pins[0].pin, "D9");
    EXPECT_EQ(pins[0].strings, 5);
    EXPECT_EQ(pins[1].strings, 3);
    EXPECT_NEAR(pins[0].most_ma + pins[1].most_ma, loads[0].most_ma + loads[1].most_ma, 1e-9);
}

TEST(Pins, PinPortAndPackageAreSummedAndHeldToTheirLimits) {
    Lamps lamps;
    for (const char* pin : {"PB1", "PB2", "PC0"}) {
        lamps.push_back(group(LampColour::red, 1, 1));
        lamps.back().driver = LampDriver::pin;
        lamps.back().pins = {pin};
    }
    Board board;
    board.regulator_v = 5;
    board.pin_ma = 20;
    std::vector<GroupLoad> loads;
    for (const LampGroup& g : lamps)
        loads.push_back(load_of(g, board.feeds(LampDriver::pin).value()));
    EXPECT_NEAR(loads[0].nominal_ma, (5 - 2.0) / 150 * 1e3, 1e-9) << "fed from the regulator, not from 12 V";
    Checks checks;
    judge_drivers(board, lamps, pins_of(lamps, loads), checks);
    EXPECT_EQ(find(checks, "current of pin PB1")->verdict, CheckVerdict::finding)
        << "24 mA with a red LED of 1.8 V at 5.25 V";
    EXPECT_EQ(find(checks, "current of port")->verdict, CheckVerdict::not_judged);
    EXPECT_EQ(find(checks, "current of the package")->verdict, CheckVerdict::not_judged);
    const double each_ma = loads[0].most_ma;
    board.pin_ma = each_ma;
    board.port_ma = 2 * each_ma;
    board.package_ma = 3 * each_ma;
    checks.clear();
    judge_drivers(board, lamps, pins_of(lamps, loads), checks);
    for (const Check& check : checks)
        EXPECT_EQ(check.verdict, CheckVerdict::passed) << check.what;
    board.port_ma = 1.99 * each_ma;
    board.package_ma = 2.99 * each_ma;
    checks.clear();
    judge_drivers(board, lamps, pins_of(lamps, loads), checks);
    EXPECT_EQ(find(checks, "current of port PB")->verdict, CheckVerdict::finding);
    EXPECT_EQ(find(checks, "current of port PC")->verdict, CheckVerdict::passed);
    EXPECT_EQ(find(checks, "current of the package")->verdict, CheckVerdict::finding);
}

// Copper Wire Tables, National Bureau of Standards Handbook 100 (1966), table 5: ohm per 1000 ft at 20 C
// (from memory).
TEST(Wires, ResistancesAreThoseOfTheCopperWireTables) {
    const std::pair<int, double> rows[] = {{24, 25.67}, {22, 16.14}, {20, 10.15}, {18, 6.385}, {16, 4.016}};
    for (const auto& [awg, ohm_per_1000_ft] : rows)
        EXPECT_NEAR(gauge_of(awg)->ohm_per_km, ohm_per_1000_ft / 0.3048, 0.01 * gauge_of(awg)->ohm_per_km)
            << awg;
    // and the gauge's definition: 0.127 mm x 92^((36 - n) / 39), copper of 1/58 ohm mm2 / m (from memory)
    for (const auto& [awg, unused] : rows) {
        const double mm = 0.127 * std::pow(92, (36 - awg) / 39.0);
        EXPECT_NEAR(gauge_of(awg)->ohm_per_km, 1e3 / 58 / (std::acos(-1) / 4 * mm * mm),
                    0.01 * gauge_of(awg)->ohm_per_km);
    }
    EXPECT_FALSE(gauge_of(23));
}

TEST(Wires, TheFuseCarriesTheLoadAndSavesTheWire) {
    EXPECT_DOUBLE_EQ(*fuse_for(0.75), 1);
    EXPECT_DOUBLE_EQ(*fuse_for(0.751), 2);
    EXPECT_FALSE(fuse_for(22.6));
    EXPECT_DOUBLE_EQ(*wire_run(24, 1, 2.25)->fuse_a, 3);
    EXPECT_FALSE(wire_run(24, 1, 2.26)->fuse_a) << "4 A is more than the 3.5 A of the wire";
    EXPECT_NEAR(wire_run(22, 1.5, 2)->drop_v, 2 * 1.5 * 0.0532 * 2, 1e-12);
}

// Worked example: days until 80 % of 2 Ah is used (derived), and 10 % a month of it by itself (common
// practice).
TEST(Battery, StandsAsLongAsWorkedOut) {
    Battery battery;
    battery.capacity_ah = 2;
    const std::pair<double, double> rows[] = {{45, 1.5}, {20, 3.3}, {3.14, 21}, {0.3, 222}};
    for (const auto& [ma, days] : rows) {
        Board board;
        board.sleep_ma = ma;
        const double itself_ma = 2'000 * 0.1 / (30 * 24);
        EXPECT_NEAR(*standby_days(battery, board) * (ma + itself_ma) / ma, days, 0.02 * days) << ma;
    }
    Board asleep;
    asleep.sleep_ma = 0;
    EXPECT_NEAR(*standby_days(battery, asleep), 240, 1e-9) << "8 months at 10 % a month, with nothing on it";
    battery.chemistry = Chemistry::lithium;
    EXPECT_NEAR(*standby_days(battery, asleep), 800, 1e-9) << "3 % a month";
    EXPECT_FALSE(standby_days(battery, Board{}));
}

} // namespace
