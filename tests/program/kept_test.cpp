// Nothing of the user's is lost: what is there, what is read, what a failed run would have made.
#include "program/run.hpp"

#include "winkhold/base/output_file.hpp"

#include <csignal>
#include <fmt/format.h>
#include <spawn.h>
#include <sys/stat.h>

namespace winkhold::testing {
namespace {

std::string flashes() {
    std::string text = "time_us,left,right\n0,0,0\n";
    for (int i = 1; i <= 12; ++i)
        text += fmt::format("{},1,0\n{},0,0\n", i * 700'000, i * 700'000 + 350'000);
    return text + "12000000,0,0\n";
}

const std::string rows = flashes();
const std::string nominal = "[vehicle]\nfile = \"" WINKHOLD_SOURCE "/data/scenarios/nominal.toml\"\n";
const std::string case_toml =
    "[provenance]\norigin = \"synthetic\"\nsource = \"s\"\nlicence = \"l\"\nreason = \"r\"\n"
    "reasoning = \"r\"\n[recording]\nfile = \"r.csv\"\n";

struct Kept {
    std::string name;
    std::string command; ///< within the scratch folder; each file in it is named by its own name
    std::string file;    ///< must stay as it was
    std::string says;
};

void PrintTo(const Kept& kept, std::ostream* out) {
    *out << kept.name;
}

class KeepsFiles : public ::testing::TestWithParam<Kept> {
protected:
    KeepsFiles() {
        scratch_.write("r.csv", rows);
        scratch_.write("s.toml", nominal);
        scratch_.write("top.toml", "[vehicle]\nfile = \"s.toml\"\n");
        scratch_.write("old.csv", "old\n");
        scratch_.write("old.toml", "# old\n");
        scratch_.write("bad.csv", rows + "garbage,1,2\n");
        std::filesystem::create_symlink("r.csv", scratch_.path("link.csv"));
        std::filesystem::create_hard_link(scratch_.path("s.toml"), scratch_.path("hard.toml"));
        std::filesystem::create_directories(scratch_.path("cases/a"));
        scratch_.write("cases/a/case.toml", case_toml);
        scratch_.write("cases/a/r.csv", rows);
        scratch_.write("cases/a/expected.csv", "time_us,indication\n0,off\n");
    }
    Scratch scratch_;
};

TEST_P(KeepsFiles, AndSaysWhy) {
    const Kept& kept = GetParam();
    const std::string before = scratch_.read(kept.file);
    ASSERT_NE(before, "");
    const int status = std::system(("cd '" + scratch_.path() +
                                    "' && PATH=\"$(dirname '" WINKHOLD_PROGRAM "'):$PATH\" "
                                    "winkhold " +
                                    kept.command + " >.out 2>.err")
                                       .c_str());
    EXPECT_EQ(WEXITSTATUS(status), 2);
    EXPECT_EQ(scratch_.read(kept.file), before);
    EXPECT_NE(scratch_.read(".err").find(kept.says), std::string::npos) << scratch_.read(".err");
    for (const auto& left : std::filesystem::directory_iterator(scratch_.path()))
        EXPECT_TRUE(!left.path().filename().string().starts_with(".") || left.path().filename() == ".out" ||
                    left.path().filename() == ".err")
            << left.path() << " was left behind";
}

const std::string read_too = "is what is being read";
const std::string there = "is there already; choose another name, or --force";
const Kept kept[] = {
    {"a_file_that_is_there", "decode r.csv --out old.csv", "old.csv", there},
    {"a_vehicle_file_under_fit", "fit r.csv --out old.toml", "old.toml", there},
    {"the_recording_itself", "decode r.csv --out r.csv --force", "r.csv", read_too},
    {"the_recording_behind_a_link", "decode r.csv --out link.csv --force", "r.csv", read_too},
    {"the_recording_on_standard_input", "decode - --out r.csv --force < r.csv", "r.csv", read_too},
    {"the_scenario", "simulate s.toml --out s.toml --force", "s.toml", read_too},
    {"the_scenario_under_another_name", "simulate s.toml --out hard.toml --force", "s.toml", read_too},
    {"what_the_scenario_builds_on", "simulate top.toml --out s.toml --force", "s.toml", read_too},
    {"what_the_scenario_builds_on_from_the_truth", "simulate top.toml --out new.csv --truth s.toml --force",
     "s.toml", read_too},
    {"a_vehicle_under_sequence", "sequence r.csv --vehicle old.toml --out old.vcd --force", "old.toml",
     "no [[lamps]]"},
    {"a_cases_expected_answer", "verify cases --junit cases/a/expected.csv --force", "cases/a/expected.csv",
     read_too},
    {"the_old_file_of_a_run_that_fails", "decode bad.csv --json --out old.csv --force", "old.csv", "garbage"},
    {"what_new_would_write_over", "new old.toml", "old.toml", there},
};

INSTANTIATE_TEST_SUITE_P(Program, KeepsFiles, ::testing::ValuesIn(kept),
                         [](const auto& named) { return named.param.name; });

TEST(Output, OfARunThatFailsIsEmpty) {
    const Scratch scratch;
    const Ran ran = scratch.run("decode " + scratch.write("bad.csv", rows + "garbage,1,2\n") + " --json");
    EXPECT_EQ(ran.exit_code, 2);
    EXPECT_EQ(ran.out, "");
}

TEST(Output, ReplacesAFileIfForcedKeepsItsModeAndFollowsItsLink) {
    const Scratch scratch;
    const std::string ride = scratch.write("r.csv", rows);
    const std::string old = scratch.write("old.csv", "old\n");
    ::chmod(old.c_str(), 0640);
    std::filesystem::create_symlink("old.csv", scratch.path("link.csv"));
    EXPECT_EQ(scratch.run("decode " + ride + " --out " + scratch.path("link.csv") + " --force").exit_code, 0);
    EXPECT_TRUE(std::filesystem::is_symlink(scratch.path("link.csv")));
    EXPECT_NE(scratch.read("old.csv").find("time_us"), std::string::npos);
    struct stat now {};
    ASSERT_EQ(::stat(old.c_str(), &now), 0);
    EXPECT_EQ(now.st_mode & 07777, 0640u);
}

TEST(Output, ThatCannotTakeItsPlaceInTheEndIsRefusedAndLeavesNothing) {
    const Scratch scratch;
    for (const bool replace : {false, true}) {
        host::OutputFile file(scratch.path("out.csv"), replace);
        file.stream() << "new\n";
        std::filesystem::create_directory(scratch.path("out.csv")); // somebody was quicker
        EXPECT_THROW(file.finish(), host::InputError) << replace;
        std::filesystem::remove(scratch.path("out.csv"));
    }
    EXPECT_TRUE(std::filesystem::is_empty(scratch.path()));
}

TEST(Onto, ChangesItsOwnSectionsAndNothingElse) {
    const Scratch scratch;
    const std::string bike = scratch.path("bike.toml");
    std::filesystem::copy_file(WINKHOLD_SOURCE "/data/vehicles/demo.toml", bike);
    const std::string ride = scratch.path("r.csv");
    ASSERT_EQ(scratch.run("simulate data/scenarios/nominal.toml --out " + ride).exit_code, 0);
    const std::string before = scratch.read("bike.toml");
    const Ran fit = scratch.run("fit " + ride + " --onto " + bike);
    EXPECT_EQ(fit.exit_code, 0) << fit.err;
    EXPECT_NE(fit.err.find("- rate_per_min = 85"), std::string::npos) << fit.err;
    const Ran sweep =
        scratch.run("sweep " + bike + " --hold 500ms:800ms:50ms --handover off --target 0.01 --onto " + bike);
    EXPECT_EQ(sweep.exit_code, 0) << sweep.err;
    const std::string after = scratch.read("bike.toml");

    std::istringstream olds(before);
    std::istringstream nows(after);
    std::string old, now, section;
    std::getline(nows, now);
    while (std::getline(olds, old)) {
        if (old.starts_with('[')) section = old;
        const bool may_change = section == "[flasher]" || section == "[lines]" || section == "[decoder]";
        while (may_change && now != old && now.substr(0, now.find(' ')) != old.substr(0, old.find(' ')) &&
               std::getline(nows, now)) {
        } // lines that were added
        const std::string comment = old.find('#') == std::string::npos ? "" : old.substr(old.find('#'));
        EXPECT_TRUE(may_change ? now.ends_with(comment) : now == old) << old << "\n" << now;
        std::getline(nows, now);
    }
    EXPECT_EQ(scratch.run("limits " + bike + " --trials 1").exit_code, 0) << "it is a vehicle file still";
}

TEST(Onto, WhatWasLearnedIsNoLongerTheExamples) {
    const Scratch scratch;
    const std::string bike = scratch.path("bike.toml");
    const std::string ride = scratch.path("r.csv");
    ASSERT_EQ(scratch.run("new " + bike).exit_code, 0);
    ASSERT_EQ(scratch.run("simulate data/scenarios/nominal.toml --out " + ride).exit_code, 0);
    ASSERT_EQ(scratch.run("fit " + ride + " --onto " + bike).exit_code, 0);
    const std::string after = scratch.read("bike.toml");
    const auto section = [&](const std::string& name) {
        const std::size_t from = after.find("\n[" + name + "]");
        return after.substr(from, after.find("\n[", from + 1) - from);
    };
    EXPECT_EQ(section("flasher").find("example"), std::string::npos) << section("flasher");
    EXPECT_EQ(section("flasher").find("start_delay"), std::string::npos) << "no recording tells it";
    EXPECT_EQ(section("lines").find("example"), std::string::npos) << section("lines");
    EXPECT_NE(section("board").find("example = true"), std::string::npos);
}

TEST(Output, KilledAtAnyMomentIsTheOldFileOrTheNewOne) {
    const Scratch scratch;
    const std::string out = scratch.write("out.csv", "old\n");
    ASSERT_EQ(scratch.run("simulate data/scenarios/unknown.toml --seed 3 --out " + scratch.path("whole.csv"))
                  .exit_code,
              0);
    const std::string whole = scratch.read("whole.csv");
    int news = 0;
    for (int i = 0; i < 60; ++i) {
        scratch.write("out.csv", "old\n");
        const pid_t child = fork();
        if (child == 0) {
            execl(WINKHOLD_PROGRAM, WINKHOLD_PROGRAM, "simulate",
                  WINKHOLD_SOURCE "/data/scenarios/unknown.toml", "--seed", "3", "--force", "--out",
                  out.c_str(), nullptr);
            _exit(9);
        }
        ::usleep(static_cast<useconds_t>(i * 250));
        ::kill(child, SIGKILL);
        int status = 0;
        ::waitpid(child, &status, 0);
        const std::string found = scratch.read("out.csv");
        EXPECT_TRUE(found == "old\n" || found == whole) << found.size();
        news += found == whole ? 1 : 0;
    }
    EXPECT_LT(news, 60) << "none was killed in time";
}

} // namespace
} // namespace winkhold::testing
