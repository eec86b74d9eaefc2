// winkhold electrics as a user would run it.
#include "program/run.hpp"

#include <nlohmann/json.hpp>

namespace winkhold::testing {
namespace {

TEST(ElectricsCommand, TheDemoVehicleIsJudgedInFullWithoutFindings) {
    const Scratch scratch;
    const Ran text = scratch.run("electrics data/vehicles/demo.toml");
    EXPECT_EQ(text.exit_code, 0) << text.out;
    EXPECT_EQ(text.out.find("Not judged"), std::string::npos) << text.out;
    EXPECT_NE(text.out.find("Bench figures, no legal advice"), std::string::npos);
    const auto json = nlohmann::json::parse(scratch.run("electrics data/vehicles/demo.toml --json").out);
    EXPECT_EQ(json["schema"], "winkhold.electrics/1");
    EXPECT_EQ(json["findings"], false);
    EXPECT_EQ(json["groups"][0]["strings"][0]["resistor_ohm"], 620);
    const double left_ma = json["lines"][0]["most_ma"];
    EXPECT_EQ(json["lines"][0]["line"], "left turn");
    EXPECT_NEAR(left_ma, 12 * json["groups"][0]["strings"][0]["ma"][1].get<double>(), 1e-6)
        << "front and rear";
    for (const auto& check : json["checks"])
        EXPECT_FALSE(check["source"].get<std::string>().empty()) << check;
}

TEST(ElectricsCommand, AnEmptyVehicleIsNotJudgedAndNeverPassed) {
    const Scratch scratch;
    const Ran ran =
        scratch.run("electrics " + scratch.write("a.toml", "[vehicle]\nname = \"a\"\n") + " --json");
    EXPECT_EQ(ran.exit_code, 0) << ran.err;
    const auto json = nlohmann::json::parse(ran.out);
    EXPECT_GE(json["checks"].size(), 5u);
    for (const auto& check : json["checks"])
        EXPECT_EQ(check["verdict"], "not-judged") << check;
}

TEST(ElectricsCommand, AFindingIsExitOneAndSaysWhatToDo) {
    const Scratch scratch;
    const std::string path = scratch.write("a.toml", "[flasher_load]\nleast_w = 20\nkept_w = 5\n");
    const Ran ran = scratch.run("electrics " + path);
    EXPECT_EQ(ran.exit_code, 1) << ran.out;
    EXPECT_NE(ran.out.find("a flasher made for LEDs"), std::string::npos) << ran.out;
}

TEST(ElectricsCommand, ALaterFileOverridesAFieldAndKeepsTheRest) {
    const Scratch scratch;
    scratch.write("base.toml", "[flasher_load]\nleast_w = 20\nkept_w = 5\n");
    const std::string path =
        scratch.write("a.toml", "[vehicle]\nfile = \"base.toml\"\n[flasher_load]\nkept_w = 21\n");
    EXPECT_EQ(scratch.run("electrics " + path).exit_code, 0);
}

TEST(ElectricsCommand, BadInputIsRefusedWithItsLine) {
    const Scratch scratch;
    const std::pair<const char*, const char*> rows[] = {
        {"[front_end]\ntop_kohm = -1\n", ":2: [front_end] top_kohm"},
        {"[front_end]\ninput = \"analog\"\n", ":2: [front_end] input: write one of: adc, schmitt, logic"},
        {"[front_end]\npart = \"LM123\"\n", "no data sheet at hand"},
        {"[front_end]\non_above = 3\noff_below = 4\n", "must not be above on_above"},
        {"[front_end]\nrise_v = [3, 2]\n", ":2: [front_end] rise_v: the range ends before it starts"},
        {"[board]\nvolts = 5\n", ":2: [board] volts: unknown field"},
        {"[board]\nawg = 18.5\n", ":2: [board] awg: write a whole number"},
        {"[battery]\ncapacity_ah = 0\n", ":2: [battery] capacity_ah: 0 is out of range"},
        {"battery = 3\n", ":1: battery: belongs into a section"},
    };
    for (const auto& [content, says] : rows) {
        const std::string path = scratch.write("a.toml", content);
        const Ran ran = scratch.run("electrics " + path);
        EXPECT_EQ(ran.exit_code, 2) << content;
        EXPECT_NE(ran.err.find(says), std::string::npos) << ran.err;
        EXPECT_TRUE(ran.out.empty());
    }
}

} // namespace
} // namespace winkhold::testing
