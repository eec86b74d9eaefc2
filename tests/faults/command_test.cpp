// winkhold prove faults, as a user runs it.
#include "program/run.hpp"

#include <nlohmann/json.hpp>

namespace winkhold::testing {
namespace {

using nlohmann::json;

const std::string good =
    "[fault]\nid = \"G1\"\ntitle = \"Nothing wrong\"\ngood = \"as ever (derived)\"\n"
    "longest_overlap = \"60ms\"\n"
    "[rider]\nscript = [{ show = \"left\", flashes = 5 }, { show = \"right\", flashes = 5 },\n"
    "  { show = \"off\", for = \"2s\" }]\n";
const std::string bad =
    "[fault]\nid = \"B1\"\ntitle = \"Too fast to be true\"\ngood = \"out at once (derived)\"\n"
    "longest_release = \"1us\"\n"
    "[rider]\nscript = [{ show = \"left\", flashes = 5 }, { show = \"off\", for = \"2s\" }]\n";

TEST(Faults, ExitsWithZeroIfTheDefaultIsGoodAndWithOneIfItFallsShort) {
    const Scratch scratch;
    scratch.write("g.toml", good);
    const std::string folder = " --seeds 3 --folder " + scratch.path("");
    EXPECT_EQ(scratch.run("prove faults" + folder).exit_code, 0);
    scratch.write("b.toml", bad);
    const Ran all = scratch.run("prove faults" + folder);
    EXPECT_EQ(all.exit_code, 1);
    EXPECT_EQ(all.err, "");
    EXPECT_NE(all.out.find("out at once (derived)"), std::string::npos) << "says what good would be";
    EXPECT_EQ(scratch.run("prove faults G1" + folder).exit_code, 0);
    EXPECT_EQ(scratch.run("prove faults B1" + folder).exit_code, 1);
}

TEST(Faults, TriesTheDefaultAPlainHoldAndTheDecoderAsGiven) {
    const Scratch scratch;
    scratch.write("g.toml", good);
    const std::string folder = " --json --seeds 3 --folder " + scratch.path("");
    const auto verdicts = [&](const std::string& options) {
        const Ran ran = scratch.run("prove faults" + options + folder);
        EXPECT_EQ(ran.exit_code, 0) << ran.err << "the default is good";
        const json read = json::parse(ran.out);
        EXPECT_EQ(read["schema"], "winkhold.faults/1");
        std::vector<std::string> list;
        for (const json& result : read["faults"][0]["results"])
            list.push_back(result["verdict"]);
        return list;
    };
    EXPECT_EQ(verdicts(""), (std::vector<std::string>{"good", "falls short"}));
    EXPECT_EQ(verdicts(" --hold 100ms"), (std::vector<std::string>{"good", "falls short", "falls short"}));
    EXPECT_EQ(verdicts(" --guard 50ms"), (std::vector<std::string>{"good", "falls short", "good"}));
}

TEST(Faults, TheWorstFigureNamesSeedAndVariant) {
    const Scratch scratch;
    scratch.write("b.toml", bad + "[[variant]]\nname = \"slow\"\nflasher.rate_per_min = 60\n");
    const Ran ran = scratch.run("prove faults --json --seeds 3 --folder " + scratch.path(""));
    const json worst = json::parse(ran.out)["faults"][0]["results"][0]["worst"];
    EXPECT_EQ(worst["what"], "release");
    EXPECT_EQ(worst["variant"], "slow");
    EXPECT_EQ(worst["limit_ms"], 0.001);
    EXPECT_GE(worst["seed"], 1);
    EXPECT_LE(worst["seed"], 3);
}

TEST(Faults, RefusesUnknownIdsFoldersAndFields) {
    const Scratch scratch;
    const Ran id = scratch.run("prove faults F99");
    EXPECT_EQ(id.exit_code, 2);
    EXPECT_EQ(id.err, "winkhold: F99: no fault of that id in the catalogue\n");
    EXPECT_EQ(scratch.run("prove faults --folder nowhere").exit_code, 2);
    EXPECT_EQ(scratch.run("prove faults --seeds 0").exit_code, 2);
    scratch.write("g.toml", good + "[volts]\nvoltage = 12\n");
    const Ran field = scratch.run("prove faults --folder " + scratch.path(""));
    EXPECT_EQ(field.exit_code, 2);
    EXPECT_NE(field.err.find("g.toml:10: [volts] voltage: unknown field"), std::string::npos) << field.err;
}

} // namespace
} // namespace winkhold::testing
