// Whose values are these: nobody's, the example's, or the owner's?
#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/base/vehicle/new_vehicle.hpp"
#include "winkhold/base/vehicle/section_edit.hpp"

#include "temp.hpp"

#include <gtest/gtest.h>

using namespace winkhold::host;
using winkhold::testing::TempFolder;

namespace {

using Origin = Vehicle::Origin;

TEST(VehicleOrigin, AnExampleIsToldFromWhatTheOwnerSays) {
    const TempFolder folder;
    const std::string base =
        folder.write("base.toml", "[flasher]\nexample = true\nrate_per_min = 85\n[lines]\nbounce = '3ms'\n"
                                  "[[lamps]]\nexample = true\nname = 'a'\n[[lamps]]\nname = 'b'\n");
    const Vehicle vehicle = Vehicle::read(
        folder.write("mine.toml", "[vehicle]\nfile = 'base.toml'\n[flasher]\nduty_percent = 50\n"));
    EXPECT_EQ(vehicle.origin("flasher.rate_per_min"), Origin::example);
    EXPECT_EQ(vehicle.origin("flasher.duty_percent"), Origin::owner);
    EXPECT_EQ(vehicle.origin("flasher.start_delay"), Origin::nobody);
    EXPECT_EQ(vehicle.origin("lines.bounce"), Origin::owner);
    EXPECT_EQ(vehicle.origin("lamps.0.name"), Origin::example);
    EXPECT_EQ(vehicle.origin("lamps.1.name"), Origin::owner);
    EXPECT_EQ(vehicle.origin("lamps.1"), Origin::owner);
    EXPECT_EQ(vehicle.origin("lamps.2"), Origin::nobody);
    ASSERT_EQ(vehicle.examples().size(), 2u);
    EXPECT_EQ(vehicle.examples()[0].place.line, 2);

    const std::vector<std::string> all{"flasher.start_delay", "lamps.1.led_v", "flasher.rate_per_min",
                                       "lines.bounce"};
    EXPECT_EQ(why_not_known(vehicle, all), "enter [flasher] start_delay, [[lamps]] 2 led_v; [flasher] (" +
                                               base + ":3) is still the example's");
    const std::vector<std::string> known{"lines.bounce", "flasher.duty_percent"};
    EXPECT_EQ(why_not_known(vehicle, known), "");
    EXPECT_NE(example_notice(vehicle).find("[flasher], [lamps]"), std::string::npos);
}

TEST(VehicleOrigin, AnExampleIsTrueOrFalse) {
    const TempFolder folder;
    const Vehicle vehicle = Vehicle::read(
        folder.write("odd.toml", "[flasher]\nexample = 'yes'\n[lines]\nexample = false\nbounce = '3ms'\n"));
    EXPECT_TRUE(vehicle.examples().empty());
    EXPECT_EQ(vehicle.origin("lines.bounce"), Origin::owner);
}

TEST(VehicleOrigin, EveryTableOfANewFileIsMarked) {
    const TempFolder folder;
    const Vehicle vehicle =
        Vehicle::read(folder.write("new.toml", new_vehicle_text("Red one", NewVehicle::example)));
    std::size_t tables = 0;
    const std::string text = new_vehicle_text("", NewVehicle::example);
    for (std::size_t at = text.find("\n["); at != std::string::npos; at = text.find("\n[", at + 1))
        ++tables;
    EXPECT_EQ(vehicle.examples().size(), tables);
    EXPECT_EQ(vehicle.name(), "Red one");
    EXPECT_TRUE(Vehicle::demo().examples().empty());
}

TEST(VehicleOrigin, AnEmptyFileHasHeadingsAndCommentsOnly) {
    const std::string text = new_vehicle_text("", NewVehicle::empty);
    const Vehicle demo = Vehicle::demo();
    for (const char* section : {"flasher", "lines", "front_end", "board", "battery", "decoder"})
        EXPECT_NE(text.find("\n[" + std::string(section) + "]"), std::string::npos) << section;
    for (std::size_t at = 0; at != std::string::npos; at = text.find('\n', at + 1)) {
        const char first = text[at == 0 ? 0 : std::min(at + 1, text.size() - 1)];
        EXPECT_TRUE(first == '#' || first == '[' || first == '\n') << text.substr(at, 60);
    }
    const TempFolder folder;
    const Vehicle vehicle =
        Vehicle::read(folder.write("empty.toml", new_vehicle_text("Mine", NewVehicle::empty)));
    EXPECT_EQ(vehicle.name(), "Mine");
    EXPECT_TRUE(vehicle.examples().empty());
    EXPECT_EQ(vehicle.origin("flasher.rate_per_min"), Origin::nobody);
    EXPECT_FALSE(vehicle.has("lamps"));
}

TEST(VehicleOrigin, WhatACommandLearnsLeavesNothingOfTheExampleBesideIt) {
    const std::string before =
        "[flasher]\nexample = true # mark\nrate_per_min = 85\nstart_delay = '5ms' # x\n"
        "\n[lines]\nexample = true\nbounce = '3ms'\n";
    const EditedText after = with_edits(
        before, "bike.toml", {{"flasher", "rate_per_min", "90"}, {"flasher", "duty_percent", "48"}});
    EXPECT_EQ(after.text, "[flasher]\nrate_per_min = 90\nduty_percent = 48\n\n[lines]\nexample = true\n"
                          "bounce = '3ms'\n");
    EXPECT_NE(after.difference.find("- start_delay"), std::string::npos);
}

} // namespace
