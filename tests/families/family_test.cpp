// The families as data: complete, readable, refused where they are wrong; and what mixes with what.
#include "temp.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/measure/families/family.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;

const std::string folder = WINKHOLD_SOURCE "/data/families";

host::Family family(const std::string& name) {
    return host::read_families(folder, {name}).front();
}

TEST(Families, EveryOneHasSeveralVariantsThatAskForTwentyRequestsOrSo) {
    const auto families = host::read_families(folder, {});
    EXPECT_EQ(families.size(), 24u);
    for (const host::Family& one : families) {
        EXPECT_GE(one.variants.size(), 2u) << one.name;
        EXPECT_LE(one.title.size(), 30u) << one.name << ": the table has no more room";
        for (const host::Variant& variant : one.variants) {
            int asked = 0;
            for (const host::RiderStep& step : variant.scenario.rider.script)
                asked += step.show != core::Indication::off;
            EXPECT_GE(asked, 20) << one.name << ", " << variant.name;
        }
    }
}

TEST(Mixtures, AddUpBreaksAndStraysAndLayTheRestOver) {
    const host::Family stray = family("stray-own");
    const host::Family loose = family("loose-bulb");
    const auto both = host::mixture(stray, 1, loose, 2);
    ASSERT_TRUE(both);
    EXPECT_EQ(both->taps.disturbances.size(), 1u);
    EXPECT_EQ(both->flasher.second_rhythm.flashes_percent, 60);
    const auto two = host::mixture(stray, 0, family("vibration"), 0);
    ASSERT_TRUE(two);
    ASSERT_EQ(two->taps.disturbances.size(), 2u);
    EXPECT_EQ(two->taps.disturbances[0].what, host::Disturbance::What::stray);
    EXPECT_EQ(two->taps.disturbances[1].hz.least, 8);
}

TEST(Mixtures, ThereAreNoneWhereBothGiveOneField) {
    EXPECT_FALSE(host::mixture(family("loose-bulb"), 0, family("lamp-out-and-back"), 0));
    EXPECT_FALSE(host::mixture(family("hum"), 0, family("lock-blips"), 0)) << "two scripts";
}

TEST(Families, WhatIsWrongIsRefusedWithItsPlace) {
    const std::string base =
        "[vehicle]\nfile = \"" WINKHOLD_SOURCE "/data/scenarios/twenty-requests.toml\"\n";
    const std::string titled = "[family]\ntitle = \"t\"\n" + base;
    const std::pair<std::string, const char*> bad[] = {
        {base, ": no [family] section"},
        {"[family]\n" + base, ":1: [family] title: missing"},
        {"[family]\ntitel = \"t\"\n" + base, "title: missing"},
        {titled + "[lines]\nbreaks = 5\n", ":6: [lines] breaks: write a list"},
        {titled + "[lines]\nbreaks = [{ percent = 20 }]\n", ":6: [lines.breaks] for: missing"},
        {titled + "[lines]\nbreaks = [{ for = \"5ms\", taps = \"other\" }]\n",
         "[lines.breaks] taps: the other side"},
        {titled + "[lines]\nstrays = [{ for = \"5ms\", hz = 8 }]\n", "[lines.strays] hz: "},
        {titled + "[lines]\nbroken = [{ tap = \"left\", reads = \"high\", hum_hz = 50, hum_for = \"1s\" }]\n",
         "hum_hz: hum is heard on a tap that reads low"},
        {titled + "[flasher]\nsecond_rhythm = 3\n", ":6: [flasher] second_rhythm: write a table"},
        {titled + "[flasher]\nsecond_rhythm = { in_turns = true }\n", "in_turns: say with after_flashes"},
        {titled + "[decoder]\nhold = \"1s\"\n", ":5: [decoder] doesn't belong into a family"},
        {titled + "[rider]\ntouch = { percent = 101 }\n", "[rider.touch] percent: "},
        {titled + "[rider]\nfumble = { side = \"same\" }\n", "[rider.fumble] side: "},
    };
    for (const auto& [text, message] : bad) {
        const winkhold::testing::TempFolder dir;
        dir.write("f.toml", text);
        try {
            host::read_families(dir.path(), {});
            ADD_FAILURE() << "not refused: " << text;
        } catch (const host::InputError& error) {
            EXPECT_NE(std::string(error.what()).find(message), std::string::npos)
                << error.what() << "\nnot: " << message;
        }
    }
}

} // namespace
