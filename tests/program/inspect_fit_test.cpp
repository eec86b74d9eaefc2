// `inspect` -> `fit` -> `sweep`, as a user would.
#include "run.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <sstream>

namespace {

using winkhold::testing::Ran;
using winkhold::testing::Scratch;
using Json = nlohmann::json;

std::string recording(const Scratch& scratch, const std::string& scenario = "data/scenarios/nominal.toml") {
    const std::string path = scratch.path("ride.csv");
    EXPECT_EQ(scratch.run("simulate " + scenario + " --seed 7 --out " + path).exit_code, 0);
    return path;
}

TEST(Inspect, TextFitsEightyColumnsAndEndsWithTheCaution) {
    Scratch scratch;
    const Ran ran = scratch.run("inspect " + recording(scratch));
    EXPECT_EQ(ran.exit_code, 0);
    EXPECT_EQ(ran.err, "");
    std::istringstream lines(ran.out.substr(ran.out.find('\n') + 1)); // the first one names the file
    for (std::string line; std::getline(lines, line);)
        EXPECT_LE(line.size(), 80u) << line;
    EXPECT_NE(ran.out.find("never tune while riding"), std::string::npos);
}

TEST(Inspect, JsonNamesItsSchemaAndBothLines) {
    Scratch scratch;
    const Json json = Json::parse(scratch.run("inspect --json " + recording(scratch)).out);
    EXPECT_EQ(json["schema"], "winkhold.inspect/1");
    ASSERT_EQ(json["lines"].size(), 2u);
    EXPECT_EQ(json["lines"][0]["line"], "left");
    EXPECT_EQ(json["lines"][0]["kind"], "flashing");
    EXPECT_NEAR(json["lines"][0]["rate"]["of_mean_period_per_min"].get<double>(), 85, 1);
    EXPECT_GT(json["suggested"]["hold"]["ms"].get<double>(), 353);
}

TEST(Inspect, AHeadWithoutRowsIsRefused) {
    Scratch scratch;
    const Ran ran = scratch.run("inspect " + scratch.write("none.csv", "time_us,left,right\n"));
    EXPECT_EQ(ran.exit_code, 2);
    EXPECT_EQ(ran.out, "");
}

TEST(Fit, JsonNamesItsSchemaAndSaysWhatIsOpen) {
    Scratch scratch;
    const Json json = Json::parse(scratch.run("fit --json " + recording(scratch)).out);
    EXPECT_EQ(json["schema"], "winkhold.fit/1");
    EXPECT_LE(json["rhythm"]["rate_per_min"]["low"].get<double>(), 85);
    EXPECT_GE(json["rhythm"]["rate_per_min"]["high"].get<double>(), 85);
    EXPECT_FALSE(json["open"].empty());
}

TEST(Memory, ARecordingOfEndlessFlashesIsRefusedWhereFlashesAreKept) {
    Scratch scratch;
    std::string rows = "time_ms,left,right\n";
    for (int i = 0; i <= 200'010; ++i)
        rows += fmt::format("{},{},0\n", 350 * i, i % 2);
    const std::string endless = scratch.write("endless.csv", rows);
    for (const char* command : {"inspect ", "fit ", "sweep ", "decode --hindsight "}) {
        const Ran ran = scratch.run(command + endless);
        EXPECT_EQ(ran.exit_code, 2) << command;
        EXPECT_NE(ran.err.find("more than 100000 flashes"), std::string::npos) << command << ran.err;
    }
    EXPECT_EQ(scratch.run("decode " + endless).exit_code, 0) << "needs no memory of them";
}

class FittedBike : public ::testing::TestWithParam<const char*> {};

TEST_P(FittedBike, IsAScenarioThatSimulateSweepAndFaultsTake) {
    Scratch scratch;
    const std::string bike = scratch.path("bike.toml");
    const std::string ride = recording(scratch, GetParam());
    const bool ride_has_one_rhythm = std::string_view(GetParam()).find("grouped") == std::string::npos;
    for (const char* how : {"", " --cautious"}) {
        ASSERT_EQ(scratch.run("fit " + ride + " --force --out " + bike + how).exit_code, 0);
        EXPECT_EQ(scratch.run("simulate " + bike).exit_code, 0);
        const Ran sweep = scratch.run("sweep " + bike + " --json --trials 100 --target 0.1 --threads 1");
        EXPECT_LE(sweep.exit_code, 1) << sweep.err;
        const Json json = Json::parse(sweep.out);
        const bool has_ranges = std::string_view(how) != "" && ride_has_one_rhythm;
        EXPECT_EQ(json["population"], has_ranges);
    }
}

INSTANTIATE_TEST_SUITE_P(Of, FittedBike,
                         ::testing::Values("data/scenarios/nominal.toml", "data/scenarios/worn.toml",
                                           "data/faults/F24-grouped-cycle.toml",
                                           "data/faults/F26-pwm-line.toml"));

TEST(Fit, TheHoldChosenForTheFittedBikeIsThatOfTheBikeItself) {
    Scratch scratch;
    const std::string bike = scratch.path("bike.toml");
    ASSERT_EQ(scratch.run("fit " + recording(scratch) + " --out " + bike).exit_code, 0);
    const auto chosen_ms = [&](const std::string& scenario) {
        const Ran ran = scratch.run("sweep " + scenario +
                                    " --json --hold 300ms:500ms:2ms --handover off --trials 300 "
                                    "--target 1e-3 --seed 3");
        EXPECT_EQ(ran.exit_code, 0);
        return Json::parse(ran.out)["chosen"]["hold_ms"].get<double>();
    };
    EXPECT_NEAR(chosen_ms(bike), chosen_ms("data/scenarios/nominal.toml"), 6);
}

TEST(Fit, ScenarioToStandardOutputIsNothingElse) {
    Scratch scratch;
    const Ran ran = scratch.run("fit " + recording(scratch) + " --out - --name 'My \"bike\"'");
    EXPECT_EQ(ran.exit_code, 0);
    EXPECT_EQ(scratch.run("simulate " + scratch.write("again.toml", ran.out)).exit_code, 0);
}

TEST(Fit, ARecordingWithoutARhythmIsRefused) {
    Scratch scratch;
    const std::string ride =
        scratch.write("ride.csv", "time_us,left,right\n0,0,0\n1000000,1,0\n1300000,0,0\n");
    const Ran ran = scratch.run("fit " + ride);
    EXPECT_EQ(ran.exit_code, 2);
    EXPECT_NE(ran.err.find("1 flash in 1 run"), std::string::npos);
}

} // namespace
