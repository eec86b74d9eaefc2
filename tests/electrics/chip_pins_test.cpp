// The table of pins, and what the outputs in it can't do.
#include "winkhold/bike/electrics/outputs.hpp"
#include "winkhold/bike/pins/chip_pins.hpp"

#include <gtest/gtest.h>
#include <set>

namespace {

using namespace winkhold;
using namespace winkhold::host;

// ATmega328P data sheet (read) and what small boards with it print (common practice, no source).
TEST(ChipPins, PortIsThatOfTheChipsNameOrOfThePrintedOne) {
    EXPECT_EQ(port_of("PB5"), "PB");
    EXPECT_EQ(port_of("pd0"), "PD");
    EXPECT_EQ(port_of("D7"), "PD");
    EXPECT_EQ(port_of(" D8 "), "PB");
    EXPECT_EQ(port_of("d13"), "PB");
    EXPECT_EQ(port_of("A0"), "PC");
    for (const char* other : {"", "P", "PB", "D", "SR1", "left", "PB1x", "D-1", "13", "PB8", "D14", "A6"})
        EXPECT_EQ(port_of(other), "") << other;
}

// ATmega328P data sheet, pin configurations and alternate port functions (from memory).
TEST(ChipPins, EachIsThereOnceAndTimersAndConverterHaveTheirOwn) {
    std::set<std::string_view> ports, printed, timers;
    std::set<int> dip, tqfp, channels;
    for (const ChipPin& pin : chip_pins()) {
        EXPECT_TRUE(ports.insert(pin.port).second) << pin.port;
        EXPECT_TRUE(pin.printed.empty() || printed.insert(pin.printed).second) << pin.printed;
        EXPECT_TRUE(pin.dip28 == 0 || dip.insert(pin.dip28).second) << pin.port;
        EXPECT_TRUE(tqfp.insert(pin.tqfp32).second) << pin.port;
        EXPECT_TRUE(pin.pwm.empty() || timers.insert(pin.pwm).second) << pin.pwm;
        EXPECT_TRUE(!pin.adc || channels.insert(*pin.adc).second) << pin.port;
        EXPECT_EQ(chip_pin(pin.port), &pin);
    }
    EXPECT_EQ(ports.size(), 25u) << "23 of ports B, C and D, and two of the converter";
    EXPECT_EQ(dip.size(), 23u);
    EXPECT_EQ(timers, (std::set<std::string_view>{"OC0A", "OC0B", "OC1A", "OC1B", "OC2A", "OC2B"}));
    EXPECT_EQ(channels.size(), 8u);
    EXPECT_EQ(reserved_pin("SPI data").printed, "D11");
    EXPECT_EQ(text(*chip_pin("D9")), "D9 (PB1)");
}

LampGroup group(LampDriver driver, std::vector<std::string> pins, std::uint8_t full,
                std::uint8_t dimmed = 0) {
    LampGroup group;
    group.driver = driver;
    group.pins = std::move(pins);
    group.plays.count = 6;
    group.plays.full = full;
    group.plays.dimmed = dimmed;
    return group;
}

std::string first_breach(const Lamps& lamps, const Board& board = {}) {
    const std::vector<OutputBreach> breaches = output_breaches(board, lamps);
    return breaches.empty() ? "" : breaches[0].what;
}

LampGroup fading(LampGroup group) {
    group.plays.pattern = core::fading_in(16, 10'000);
    return group;
}

TEST(Outputs, ARegisterIsOnOrOffAndAllAreDimmedTogether) {
    const LampDriver driver = LampDriver::shift_register;
    EXPECT_EQ(first_breach({group(driver, {"SR1"}, 255), group(driver, {"SR2"}, 255)}), "");
    EXPECT_EQ(first_breach({group(driver, {"SR1"}, 100), group(driver, {"SR2"}, 100)}), "");
    EXPECT_EQ(first_breach({fading(group(driver, {"SR1"}, 255))}),
              "fades, but a register's output is on or off");
    for (const Lamps& two : {Lamps{group(driver, {"SR1"}, 255), group(driver, {"SR2"}, 254)},
                             Lamps{group(driver, {"SR1"}, 255, 40)}})
        EXPECT_NE(first_breach(two).find("all registers are dimmed together"), std::string::npos);
}

TEST(Outputs, BrightnessTakesAPinWithATimersOutput) {
    for (const LampDriver driver : {LampDriver::pin, LampDriver::transistor}) {
        EXPECT_EQ(first_breach({group(driver, {"D9", "PD5"}, 120, 1)}), "");
        EXPECT_EQ(first_breach({group(driver, {"D8", "A0"}, 255, 0)}), "") << "on or off is enough";
        EXPECT_EQ(first_breach({group(driver, {"D9", "D8"}, 120)}),
                  "is lit at more brightnesses than dark and 255, but pin D8 (PB0) is on or off: no timer "
                  "drives it");
        EXPECT_EQ(first_breach({fading(group(driver, {"A0"}, 255))}),
                  "fades, but pin A0 (PC0) is on or off: no timer drives it");
        EXPECT_EQ(first_breach({group(driver, {"X1"}, 120)}), "") << "not known";
        EXPECT_EQ(unknown_pins(group(driver, {"D9", "X1"}, 120)), std::vector<std::string>{"X1"});
    }
}

TEST(Outputs, RegistersHangOnTheSpiAndOnFreePins) {
    const Lamps lamps{group(LampDriver::shift_register, {"SR1"}, 100)};
    Board board;
    board.register_data = "D11";
    board.register_clock = "PB5";
    board.register_latch = "D10";
    board.register_enable = "D3";
    EXPECT_EQ(first_breach(lamps, board), "");
    EXPECT_EQ(first_breach({}, board), "");
    const std::pair<std::string Board::*, const char*> slips[] = {
        {&Board::register_data, "D12"}, {&Board::register_clock, "D7"},   {&Board::register_latch, "D1"},
        {&Board::register_latch, "A6"}, {&Board::register_enable, "D13"}, {&Board::register_enable, "D8"}};
    for (const auto& [line, pin] : slips) {
        Board slipped = board;
        slipped.*line = pin;
        EXPECT_NE(first_breach(lamps, slipped), "") << pin;
    }
    board.register_enable = "D8";
    EXPECT_EQ(first_breach({group(LampDriver::shift_register, {"SR1"}, 255)}, board), "") << "nothing to dim";
}

} // namespace
