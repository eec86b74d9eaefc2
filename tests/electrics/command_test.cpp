// winkhold electrics as a user would run it.
#include "program/run.hpp"

#include <array>
#include <fstream>
#include <iterator>
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

/// The demo bike with a line of it changed; `was` begins a line.
std::string changed(const std::string& was, const std::string& now) {
    std::ifstream file(WINKHOLD_SOURCE "/data/vehicles/demo.toml");
    const std::string demo(std::istreambuf_iterator<char>(file), {});
    const std::size_t at = demo.find("\n" + was);
    EXPECT_NE(at, std::string::npos) << was;
    const std::size_t end = demo.find('\n', at + 1);
    return demo.substr(0, at + 1) + now + demo.substr(end);
}

nlohmann::json judged(const Scratch& scratch, const std::string& text) {
    return nlohmann::json::parse(scratch.run("electrics " + scratch.write("a.toml", text) + " --json").out);
}

TEST(ElectricsCommand, WhatNoPartHasIsAFindingAndNothingThatRestsOnItPasses) {
    const Scratch scratch;
    const std::array<std::string, 3> rows[] = {{"led_ma = 20", "led_ma = 0.02", "front left"},
                                               {"led_ma = 20", "led_ma = 4000", "front left"},
                                               {"led_v = 2.1", "led_v = 3.2", "front left"},
                                               {"top_kohm = 120", "top_kohm = 12_000", "front end"},
                                               {"regulator_v = 5", "regulator_v = 0.5", "front end"},
                                               {"rate_per_min = 85", "rate_per_min = 8_50.0", "rhythm"},
                                               {"across_mm = 380", "across_mm = 3_800", "lamps"},
                                               {"high_edge_mm = 652", "high_edge_mm = 4_652", "lamps"},
                                               {"step = \"30ms\"", "step = \"0.3ms\"", "lamps"},
                                               {"bounce = \"3ms\"", "bounce = \"90ms\"", "lines"},
                                               {"rise_skew = ", "rise_skew = [\"0ms\", \"400ms\"]", "lines"},
                                               {"sample = \"1ms\"", "sample = \"100ms\"", "taps"},
                                               {"capacity_ah = 8", "capacity_ah = 8000", "battery"}};
    for (const auto& [was, now, part] : rows) {
        const auto json = judged(scratch, changed(was, now));
        EXPECT_TRUE(json["findings"]) << now;
        std::size_t implausible = 0;
        for (const auto& check : json["checks"]) {
            implausible += check["part"] == "implausible" ? 1 : 0;
            if (now != "regulator_v = 0.5" && now != "top_kohm = 12_000" && check["part"] == part) {
                EXPECT_NE(check["verdict"], "passed") << now << check;
            }
        }
        EXPECT_EQ(implausible, 1u) << now;
    }
}

TEST(ElectricsCommand, WhatRestsOnADefaultIsNotJudgedAndSaysWhichField) {
    const Scratch scratch;
    const std::array<const char*, 3> rows[] = {
        {"resistor_percent", "from 9 V up", "enter [front_end] resistor_percent"},
        {"pull_up_kohm", "skew that it adds", "enter [front_end] pull_up_kohm"},
        {"adc_bits", "crank dip to 6 V", "enter [front_end] adc_bits"},
        {"capacitor_percent", "skew that it adds", "enter [front_end] capacitor_percent"},
        {"junction_c", "junction at 16 V", "enter [board] junction_c"},
        {"switch_drop_v", "current at 16 V", "enter [board] switch_drop_v"},
        {"register_outputs", "strings on SR1", "enter [board] register_outputs"}};
    for (const auto& [key, what, says] : rows) {
        bool seen = false;
        const auto json = judged(scratch, changed(std::string(key) + " =", ""));
        for (const auto& check : json["checks"]) {
            if (check["what"].get<std::string>().find(what) == std::string::npos) continue;
            seen = true;
            EXPECT_EQ(check["verdict"], "not-judged") << key << check;
            EXPECT_NE(check["advice"].get<std::string>().find(says), std::string::npos) << check;
        }
        EXPECT_TRUE(seen) << what;
    }
}

TEST(ElectricsCommand, NothingOfTheExamplePasses) {
    const Scratch scratch;
    const std::string path = scratch.path("new.toml");
    ASSERT_EQ(scratch.run("new " + path).exit_code, 0);
    const auto json = nlohmann::json::parse(scratch.run("electrics " + path + " --json").out);
    EXPECT_FALSE(json["still_example"].empty());
    for (const auto& check : json["checks"])
        EXPECT_EQ(check["verdict"], "not-judged") << check;
    EXPECT_NE(scratch.run("electrics " + path).out.find("Still the example's"), std::string::npos);
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
