// winkhold prove compare and winkhold prove worth, as a user runs them.
#include "program/run.hpp"

#include <nlohmann/json.hpp>
#include <sstream>

namespace winkhold::testing {
namespace {

using nlohmann::json;

TEST(Compare, ExitsWithOneIfAndOnlyIfACellMissesATarget) {
    const Scratch scratch;
    for (const char* seed : {"1", "2"}) {
        const Ran ran = scratch.run(std::string("prove compare --json --flashes 500 --seed ") + seed);
        EXPECT_EQ(ran.err, "");
        const json read = json::parse(ran.out);
        EXPECT_EQ(read["schema"], "winkhold.compare/1");
        EXPECT_EQ(read["cells"].size(), 81u);
        EXPECT_EQ(ran.exit_code, read["misses"].empty() ? 0 : 1);
        for (const json& miss : read["misses"]) {
            EXPECT_EQ(miss["jitter_percent"], 1);
            EXPECT_GT(miss["value"], miss["limit"]);
        }
    }
}

TEST(Compare, TheNumberOfThreadsNeverChangesAByte) {
    const Scratch scratch;
    for (const char* format : {"", " --json", " --markdown"}) {
        const std::string command = std::string("prove compare --flashes 200") + format;
        const Ran one = scratch.run(command + " --threads 1");
        EXPECT_EQ(scratch.run(command + " --threads 2").out, one.out);
        EXPECT_EQ(scratch.run(command + " --threads 100").out, one.out);
        EXPECT_NE(scratch.run(command + " --seed 2").out, one.out);
    }
}

TEST(Compare, TheTextFitsAScreenAndNamesWhatIsMissed) {
    const Scratch scratch;
    const Ran ran = scratch.run("prove compare --flashes 500");
    std::istringstream lines(ran.out);
    for (std::string line; std::getline(lines, line);)
        EXPECT_LE(line.size(), line.starts_with("  ") ? 200u : 80u) << line;
    const bool misses = ran.out.find("The default decoder misses, at 1 % jitter:\n  ") != std::string::npos;
    const bool meets = ran.out.find("The default decoder meets every target.\n") != std::string::npos;
    EXPECT_EQ(ran.exit_code, misses ? 1 : 0);
    EXPECT_NE(misses, meets);
}

TEST(Rules, TheNumberOfThreadsNeverChangesAByte) {
    const Scratch scratch;
    for (const char* format : {"", " --json", " --markdown"}) {
        const std::string command =
            std::string("prove worth --flashes 500 --fault-seeds 1 --family-rides 1") + format;
        const Ran one = scratch.run(command + " --threads 1");
        EXPECT_EQ(one.exit_code, 0) << one.err;
        EXPECT_EQ(scratch.run(command + " --threads 3").out, one.out);
    }
}

TEST(Rules, FaultsAndFamiliesAreAsTheirOwnCommandsFindThem) {
    const Scratch scratch;
    const json rules =
        json::parse(scratch.run("prove worth --json --flashes 500 --fault-seeds 2 --family-rides 1").out);
    const json faults = json::parse(scratch.run("prove faults --json --seeds 2 --handover off").out);
    const auto passed = [&](std::size_t decoder) {
        json ids = json::array();
        for (const json& fault : faults["faults"])
            if (fault["results"][decoder]["verdict"] != "falls short") ids.push_back(fault["id"]);
        return ids;
    };
    const auto row = [&](const char* name) {
        for (const json& rule : rules["rules"])
            if (rule["rule"] == name) return rule["faults_passed"];
        return json();
    };
    EXPECT_EQ(rules["schema"], "winkhold.worth/1");
    const json families = json::parse(scratch.run("prove families --json --rides 1 --mixed-rides 0").out);
    EXPECT_EQ(rules["rules"][0]["family_dropouts_a_request"], families["mean_dropouts"][0]["a_request"]);
    EXPECT_EQ(row("default"), passed(0));
    EXPECT_EQ(row("handover off"), passed(2));
    EXPECT_NE(passed(0), passed(2));
}

TEST(Rules, TheReadmeOfTheBenchShowsWhatTheCommandPrints) {
    const Scratch scratch;
    std::ifstream file(WINKHOLD_SOURCE "/bench/README.md");
    const std::string readme{std::istreambuf_iterator<char>(file), {}};
    const std::string begin = "<!-- winkhold prove worth --markdown -->\n";
    const auto from = readme.find(begin);
    ASSERT_NE(from, std::string::npos);
    const auto start = from + begin.size();
    EXPECT_EQ(readme.substr(start, readme.find("<!-- end -->", start) - start),
              scratch.run("prove worth --markdown").out)
        << "run tests/compare/renew_readme.sh";
}

TEST(CompareAndRules, RefuseBadUsageAndInput) {
    const Scratch scratch;
    EXPECT_EQ(scratch.run("prove compare --flashes 0").exit_code, 2);
    EXPECT_EQ(scratch.run("prove compare --json --markdown").exit_code, 2);
    EXPECT_EQ(scratch.run("prove worth --fault-seeds 0").exit_code, 2);
    EXPECT_EQ(scratch.run("prove worth --family-rides 0").exit_code, 2);
    const Ran ran = scratch.run("prove worth --data nowhere");
    EXPECT_EQ(ran.exit_code, 2);
    EXPECT_NE(ran.err.find("nowhere/"), std::string::npos) << ran.err;
}

} // namespace
} // namespace winkhold::testing
