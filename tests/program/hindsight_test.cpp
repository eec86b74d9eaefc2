// decode --hindsight: what is added to the answer, and the exit code.
#include "program/run.hpp"

#include <nlohmann/json.hpp>

namespace winkhold::testing {
namespace {

using nlohmann::json;

/// 300 ms lit, 350 ms dark, three flashes of the left side.
const std::string three_flashes =
    "time_ms,left,right\n0,0,0\n1000,1,0\n1300,0,0\n1650,1,0\n1950,0,0\n2300,1,0\n"
    "2600,0,0\n6000,0,0\n";

TEST(Hindsight, ListsDropoutsInJsonBesideTheUnchangedAnswer) {
    const Scratch scratch;
    const std::string file = scratch.write("a.csv", three_flashes);
    const Ran plain = scratch.run("decode " + file + " --hold 250ms --json");
    const Ran ran = scratch.run("decode " + file + " --hold 250ms --json --hindsight");
    EXPECT_EQ(ran.exit_code, 1) << ran.err;
    json answer = json::parse(ran.out);
    json found = answer["disagreements"];
    for (json& one : found) {
        EXPECT_GT(one["confidence"], 0.99);
        one.erase("confidence");
    }
    const json expected = {{{"from_us", 1'550'000},
                            {"to_us", 1'655'000},
                            {"causal", "off"},
                            {"smoother", "left"},
                            {"kind", "dropout"}},
                           {{"from_us", 2'200'000},
                            {"to_us", 2'305'000},
                            {"causal", "off"},
                            {"smoother", "left"},
                            {"kind", "dropout"}}};
    EXPECT_EQ(found, expected);
    answer.erase("disagreements");
    EXPECT_EQ(answer, json::parse(plain.out)) << "the answer itself stays the same";
    EXPECT_FALSE(json::parse(plain.out).contains("disagreements"));
}

TEST(Hindsight, LateReleaseIsNamedAsSuch) {
    const Scratch scratch;
    const std::string file = scratch.write("a.csv", three_flashes);
    const Ran ran = scratch.run("decode " + file + " --hold 2s --json --hindsight");
    EXPECT_EQ(ran.exit_code, 1);
    const json found = json::parse(ran.out)["disagreements"];
    ASSERT_EQ(found.size(), 1u) << ran.out;
    EXPECT_EQ(found[0]["kind"], "late-release");
    EXPECT_EQ(found[0]["to_us"], 4'600'000);
    EXPECT_EQ(found[0]["causal"], "left");
    EXPECT_EQ(found[0]["smoother"], "off");
}

TEST(Hindsight, WithoutDisagreementsExitsWithZero) {
    // four gaps are known: silence is bridged no longer than they ask for
    const Scratch scratch;
    const std::string file =
        scratch.write("a.csv", "time_ms,left,right\n0,0,0\n1000,1,0\n1300,0,0\n1650,1,0\n1950,0,0\n"
                               "2300,1,0\n2600,0,0\n2950,1,0\n3250,0,0\n3600,1,0\n3900,0,0\n6000,0,0\n");
    const Ran ran = scratch.run("decode " + file + " --json --hindsight");
    EXPECT_EQ(ran.exit_code, 0) << ran.out;
    EXPECT_EQ(json::parse(ran.out)["disagreements"], json::array());
    EXPECT_NE(scratch.run("decode " + file + " --hindsight").out.find("beyond that: none"),
              std::string::npos);
}

TEST(Hindsight, TextStaysWithin80ColumnsAndEndsWithTheCaution) {
    const Scratch scratch;
    const Ran made = scratch.run("simulate data/scenarios/nominal.toml --out " + scratch.path("ride.csv"));
    ASSERT_EQ(made.exit_code, 0) << made.err;
    const Ran ran = scratch.run("decode - --hold 250ms --hindsight", scratch.path("ride.csv"));
    EXPECT_EQ(ran.exit_code, 1);
    EXPECT_NE(ran.out.find("asked right "), std::string::npos);
    EXPECT_NE(ran.out.find("dropout "), std::string::npos);
    EXPECT_NE(ran.out.find("shown off, asked hazard (100 %)"), std::string::npos) << ran.out;
    const std::string last = "have safety wiring checked by someone licensed.\n";
    ASSERT_GT(ran.out.size(), last.size());
    EXPECT_EQ(ran.out.substr(ran.out.size() - last.size()), last);
    EXPECT_EQ(ran.out.find("Bench figures"), ran.out.rfind("Bench figures")) << "the caution stands once";
    std::istringstream lines(ran.out);
    for (std::string line; std::getline(lines, line);)
        EXPECT_LE(line.size(), 80u) << line;
}

TEST(Hindsight, RefusesCsvAndWritesNothingOnBadInput) {
    const Scratch scratch;
    const Ran csv = scratch.run("decode " + scratch.write("a.csv", three_flashes) + " --csv --hindsight");
    EXPECT_EQ(csv.exit_code, 2);
    EXPECT_EQ(csv.out, "");
    EXPECT_NE(csv.err.find("use --json"), std::string::npos) << csv.err;
    const Ran bad =
        scratch.run("decode " + scratch.write("b.csv", three_flashes + "5000,0,0\n") + " --hindsight");
    EXPECT_EQ(bad.exit_code, 2);
    EXPECT_EQ(bad.out, "");
    EXPECT_NE(bad.err.find("b.csv:10"), std::string::npos) << bad.err;
}

TEST(Hindsight, HelpSaysThatItKeepsTheRecording) {
    const Scratch scratch;
    EXPECT_NE(scratch.run("decode --help").out.find("memory, as settled edges"), std::string::npos);
}

} // namespace
} // namespace winkhold::testing
