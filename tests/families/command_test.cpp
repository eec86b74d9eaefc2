// winkhold prove families, as a user runs it.
#include "program/run.hpp"

#include <nlohmann/json.hpp>

namespace winkhold::testing {
namespace {

using nlohmann::json;

TEST(ProveFamilies, ExitsWithOneIfAndOnlyIfAGoalIsMissed) {
    const Scratch scratch;
    const Ran ran = scratch.run("prove families --json --rides 3 --mixed-rides 2");
    EXPECT_EQ(ran.err, "");
    const json read = json::parse(ran.out);
    EXPECT_EQ(read["schema"], "winkhold.families/1");
    EXPECT_GT(read["rows"].size(), 200u) << "24 families, and what can be mixed of them";
    EXPECT_EQ(ran.exit_code, read["misses"].empty() ? 0 : 1);
    for (const json& miss : read["misses"])
        EXPECT_GT(miss["value"], miss["limit"]);
}

TEST(ProveFamilies, NothingIsWorseWhereTheLinesAreAsTheyShouldBe) {
    const Scratch scratch;
    scratch.write(
        "clean.toml",
        "[family]\ntitle = \"nothing wrong\"\n[vehicle]\nfile = \"" WINKHOLD_SOURCE
        "/data/scenarios/nominal.toml\"\n[[variant]]\nname = \"as it is\"\nlines.bounce = \"3ms\"\n");
    const Ran ran = scratch.run("prove families --rides 6 --folder " + scratch.path());
    EXPECT_EQ(ran.exit_code, 0) << ran.out << ran.err;
    EXPECT_NE(ran.out.find("  mean dropouts of all families: at most 0.010\n"), std::string::npos) << ran.out;
    EXPECT_NE(ran.out.find("All are met.\n"), std::string::npos) << ran.out;
}

TEST(ProveFamilies, TheNumberOfThreadsNeverChangesAByte) {
    const Scratch scratch;
    for (const char* format : {"", " --json", " --markdown"}) {
        const std::string command = std::string("prove families --rides 2 --mixed-rides 1") + format;
        const Ran one = scratch.run(command + " --threads 1");
        EXPECT_EQ(scratch.run(command + " --threads 7").out, one.out);
        EXPECT_NE(scratch.run(command + " --seed 2").out, one.out);
    }
}

TEST(ProveFamilies, TakesOnlyThoseThatAreNamedAndRefusesOthers) {
    const Scratch scratch;
    const json read = json::parse(scratch.run("prove families vibration hum --json --rides 1").out);
    EXPECT_EQ(read["rows"].size(), 3u) << "each, and both";
    EXPECT_EQ(read["rows"][0]["families"], json({"hum"}));
    EXPECT_EQ(read["rows"][2]["families"], json({"hum", "vibration"}));
    const Ran ran = scratch.run("prove families vibrations");
    EXPECT_EQ(ran.exit_code, 2);
    EXPECT_NE(ran.err.find("vibrations: no family of that name in the families carried along"),
              std::string::npos)
        << ran.err;
    EXPECT_EQ(scratch.run("prove families --folder nowhere").exit_code, 2);
    EXPECT_EQ(scratch.run("prove families --rides 0").exit_code, 2);
}

} // namespace
} // namespace winkhold::testing
