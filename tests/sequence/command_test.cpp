// `winkhold sequence` as a user runs it.
#include "program/run.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <sstream>

namespace winkhold::testing {
namespace {

const std::string demo = "sequence data/vehicles/demo.toml";
const std::string lamp_out = "time_us,left,right,brake\n0,0,0,0\n"
                             "1000000,1,0,0\n1128000,0,0,0\n1278000,1,0,0\n1300000,1,0,1\n1406000,0,0,1\n"
                             "1556000,1,0,1\n1684000,0,0,1\n4000000,0,0,0\n";

TEST(SequenceCommand, DrawsEachLampOfTheDemoAndNothingStaysDark) {
    const Ran ran = Scratch().run(demo);
    EXPECT_EQ(ran.exit_code, 0) << ran.err;
    EXPECT_NE(ran.out.find("front left       1 __###"), std::string::npos) << ran.out;
    EXPECT_NE(ran.out.find("                 6 __________####"), std::string::npos) << ran.out;
    EXPECT_NE(ran.out.find("in the line's own flashes"), std::string::npos);
    EXPECT_NE(ran.out.find("lit 5 ms after the brake tap"), std::string::npos) << ran.out;
    EXPECT_NE(ran.out.find("no legal advice"), std::string::npos);
    EXPECT_EQ(ran.out.find('\033'), std::string::npos) << "colours belong on terminals";
}

TEST(SequenceCommand, TellsWhichLampStaysDarkAndExitsWithOne) {
    const Scratch scratch;
    const Ran ran = scratch.run("sequence " + scratch.write("a.csv", lamp_out));
    EXPECT_EQ(ran.exit_code, 1);
    EXPECT_NE(ran.out.find("1 NOT full, first in flash "), std::string::npos) << ran.out;
}

/// The demo bike loses a lamp after `flashes` flashes, then shows a hazard that `then` follows at once.
std::string lamp_out_then(const Scratch& scratch, int flashes, const char* then, const char* sequence) {
    const std::string path = scratch.write(
        "ride.toml",
        fmt::format("[vehicle]\nfile = '" WINKHOLD_SOURCE "/data/vehicles/demo.toml'\n[flasher]\n"
                    "lamp_out_after_flashes = {}\nlamp_out_rate_factor = 2.3\nlamp_out_duty_percent = 35\n"
                    "[sequence]\n{}\n[rider]\nscript = [{{ show = 'off', for = '500ms' }}, "
                    "{{ show = 'left', flashes = [9, 9] }}, {{ show = 'hazard', for = '3s' }}, "
                    "{{ show = '{}', for = '2s' }}]\n",
                    flashes, sequence, then));
    return scratch.run("sequence " + path).out;
}

TEST(SequenceCommand, TellsFromWhichFlashOnTheFillShrinks) {
    const Scratch scratch;
    for (const int flashes : {2, 5}) {
        const std::string out = lamp_out_then(scratch, flashes, "off", "clock = 'following'");
        EXPECT_NE(out.find(fmt::format("first in flash {} at ", flashes + 1)), std::string::npos)
            << "the first that is cut short\n"
            << out;
        EXPECT_NE(out.find(fmt::format("first in flash {} at ", flashes + 2)), std::string::npos)
            << "and from the next one on the fill hurries\n"
            << out;
    }
}

TEST(SequenceCommand, TellsThatAHazardBecameOneSide) {
    const Scratch scratch;
    const char* const says = "A hazard became one side without a pause once";
    const std::string own = lamp_out_then(scratch, 5, "right", "clock = 'own-rate'\nrate_per_min = 85");
    EXPECT_NE(own.find(says), std::string::npos) << own;
    EXPECT_NE(own.find("at their own"), std::string::npos) << own;
    EXPECT_NE(lamp_out_then(scratch, 5, "left", "clock = 'following'").find(says), std::string::npos);
    EXPECT_EQ(
        lamp_out_then(scratch, 5, "off", "clock = 'own-rate'\nrate_per_min = 85").find("A hazard became"),
        std::string::npos);
}

TEST(SequenceCommand, JsonHasFramesFillsAndTheStopDelay) {
    const Scratch scratch;
    const auto json =
        nlohmann::json::parse(scratch.run("sequence --json " + scratch.write("a.csv", lamp_out)).out);
    EXPECT_EQ(json["schema"], "winkhold.sequence/1");
    EXPECT_EQ(json["clock"], "following");
    EXPECT_EQ(json["groups"][4]["name"], "stop");
    EXPECT_EQ(json["groups"][4]["lamps"], 18);
    EXPECT_EQ(json["stop_delay_us"], 5'000);
    EXPECT_EQ(json["end_us"], 4'000'000);
    EXPECT_EQ(json["frames"][1]["t_us"], 1'005'000);
    EXPECT_EQ(json["frames"][1]["indication"], "left");
    EXPECT_EQ(json["frames"][1]["brightness"][0], nlohmann::json({255, 0, 0, 0, 0, 0}));
    EXPECT_EQ(json["fills"][0]["reached"], 5);
    EXPECT_TRUE(json["fills"][0]["full_us"].is_null());
    EXPECT_EQ(json["fills"][2]["reached"], 6);
}

TEST(SequenceCommand, PlaysTheNamedGroupsAloneInTheOrderOfTheFile) {
    const Scratch scratch;
    const std::string recording = scratch.write("a.csv", lamp_out);
    const auto all = nlohmann::json::parse(scratch.run("sequence --json " + recording).out);
    const auto some =
        nlohmann::json::parse(scratch.run("sequence --json " + recording + " --group stop 'front left'").out);
    EXPECT_EQ(some["groups"], nlohmann::json({all["groups"][0], all["groups"][4]}));
    const auto lit = [](const nlohmann::json& of, std::size_t group) {
        std::vector<nlohmann::json> changes;
        for (const auto& frame : of["frames"])
            if (changes.empty() || changes.back() != frame["brightness"][group])
                changes.push_back(frame["brightness"][group]);
        return changes;
    };
    EXPECT_EQ(lit(some, 0), lit(all, 0)) << "the others make no difference";
    EXPECT_EQ(lit(some, 1), lit(all, 4));

    const Ran wrong = scratch.run("sequence " + recording + " --group 'frnt left'");
    EXPECT_EQ(wrong.exit_code, 2);
    EXPECT_NE(wrong.err.find("\"frnt left\"; did you mean 'front left'?"), std::string::npos) << wrong.err;
}

TEST(SequenceCommand, CsvHasAColumnForEachLampAndTheSameFramesAsJson) {
    const Scratch scratch;
    const std::string file = scratch.write("a.csv", lamp_out);
    const auto json = nlohmann::json::parse(scratch.run("sequence --json " + file).out);
    std::istringstream rows(scratch.run("sequence --csv " + file).out);
    std::string row;
    std::getline(rows, row);
    EXPECT_EQ(row.rfind("time_us,indication,front left 1,front left 2,", 0), 0u) << row;
    EXPECT_EQ(std::count(row.begin(), row.end(), ','), 1 + 24 + 18 + 10);
    for (const auto& frame : json["frames"]) {
        std::getline(rows, row);
        std::string expected =
            std::to_string(frame["t_us"].get<int>()) + "," + frame["indication"].get<std::string>();
        for (const auto& group : frame["brightness"])
            for (const int brightness : group)
                (expected += ',') += std::to_string(brightness);
        EXPECT_EQ(row, expected);
    }
    std::getline(rows, row);
    EXPECT_EQ(row.rfind("4000000,off,", 0), 0u) << "the end";
}

// vcd2fst and fst2vcd (Debian's package gtkwave) share no code with this project.
TEST(SequenceCommand, AnotherVcdReaderSeesOneSignalALampAndTheLinesCanBeDecodedAgain) {
    const Scratch scratch;
    const std::string file = scratch.write("a.csv", lamp_out);
    scratch.run("sequence " + file + " --out " + scratch.path("b.vcd"));
    ASSERT_EQ(std::system(("cd '" + scratch.path("") +
                           "' && vcd2fst b.vcd b.fst >/dev/null && fst2vcd -f b.fst -o c.vcd >/dev/null")
                              .c_str()),
              0)
        << "Debian's package gtkwave has these tools";
    const std::string seen = scratch.read("c.vcd");
    std::size_t lamps = 0;
    for (std::size_t at = 0; (at = seen.find(" lamp_", at)) != std::string::npos; ++at)
        ++lamps;
    EXPECT_EQ(lamps, 24u + 18u + 10u);
    EXPECT_NE(seen.find("front_left"), std::string::npos);
    EXPECT_EQ(scratch.run("decode --json " + scratch.path("c.vcd")).out,
              scratch.run("decode --json " + file).out);
}

struct BadFile {
    std::string name, content, says;
};

class SequenceRefuses : public ::testing::TestWithParam<BadFile> {};

TEST_P(SequenceRefuses, WithOneClearMessageAndExitTwo) {
    const Scratch scratch;
    const std::string file = scratch.write("a.toml", GetParam().content);
    const Ran ran = scratch.run("sequence data/scenarios/nominal.toml --vehicle " + file);
    EXPECT_EQ(ran.exit_code, 2) << ran.err;
    EXPECT_EQ(std::count(ran.err.begin(), ran.err.end(), '\n'), 1) << ran.err;
    EXPECT_EQ(ran.out, "");
    EXPECT_NE(ran.err.find(file), std::string::npos) << ran.err;
    EXPECT_NE(ran.err.find(GetParam().says), std::string::npos) << ran.err;
}

const std::string lamp = "[[lamps]]\nname = \"a\"\njob = \"turn\"\nside = \"left\"\n";

const BadFile bad_files[] = {
    {"no_lamps", "", "no [[lamps]]"},
    {"lamps_as_a_section", "[lamps]\ncount = 1\n", ":1: write each as [[lamps]]"},
    {"no_name", "[[lamps]]\ncount = 1\n", ":1: [lamps] name: missing"},
    {"no_job", "[[lamps]]\nname = \"a\"\ncount = 1\n",
     "job: missing; write one of: turn, stop, tail, marker"},
    {"no_count", lamp, "count: missing"},
    {"no_lamp_in_a_group", lamp + "count = 0\n", ":5: [lamps] count: 0 is out of range"},
    {"a_name_twice", lamp + "count = 1\n" + lamp + "count = 1\n",
     ":7: [lamps] name: \"a\" is the name of another group"},
    {"too_many_lamps", lamp + "count = 5000\n", ":5: [lamps] count: 5000 is out of range"},
    {"brightness_of_256", lamp + "count = 1\nbrightness = 256\n", ":6: [lamps] brightness"},
    {"an_unknown_field", lamp + "count = 1\ncolor = \"red\"\n", ":6: [lamps] color: unknown field"},
    {"outward_without_a_step", lamp + "count = 6\npattern = \"outward\"\n", "step: missing"},
    {"a_step_without_a_pattern", lamp + "count = 6\nstep = \"30ms\"\n", ":6: [lamps] step: only with"},
    {"blocks_without_a_block", lamp + "count = 6\npattern = \"blocks\"\nstep = \"30ms\"\n", "block: missing"},
    {"a_fill_over_5_s", lamp + "count = 100\npattern = \"outward\"\nstep = \"60ms\"\n", "last over 5 s"},
    {"a_stop_lamp_with_a_pattern",
     "[[lamps]]\nname = \"a\"\njob = \"stop\"\nside = \"both\"\ncount = 6\npattern = \"outward\"\nstep = "
     "\"30ms\"\n",
     "must not wait"},
    {"an_unknown_clock", lamp + "count = 1\n[sequence]\nclock = \"sun\"\n",
     ":7: [sequence] clock: write one of: following, own-rate"},
    {"a_rate_while_following", lamp + "count = 1\n[sequence]\nrate_per_min = 80\n",
     ":7: [sequence] rate_per_min: only with"},
    {"an_own_rate_of_nothing", lamp + "count = 1\n[sequence]\nclock = \"own-rate\"\n",
     "needs rate_per_min, or"},
    {"a_flash_of_over_5_s",
     lamp + "count = 1\n[sequence]\nclock = \"own-rate\"\nrate_per_min = 10\nduty_percent = 90\n",
     "raise rate_per_min"},
};

INSTANTIATE_TEST_SUITE_P(Program, SequenceRefuses, ::testing::ValuesIn(bad_files),
                         [](const auto& info) { return info.param.name; });

TEST(SequenceCommand, RefusesToWriteOverTheRecordingOrInAnUnknownFormat) {
    const Scratch scratch;
    ASSERT_EQ(scratch.run("simulate data/scenarios/nominal.toml --out " + scratch.path("a.vcd")).exit_code,
              0);
    const std::string over = "sequence " + scratch.path("a.vcd") + " --out " + scratch.path("a.vcd");
    EXPECT_NE(scratch.run(over).err.find("is what is being read"), std::string::npos);
    EXPECT_NE(scratch.run(demo + " --out lamps.txt").err.find("must end in .vcd"), std::string::npos);
    EXPECT_NE(scratch.run(demo + " --from soon").err.find("--from"), std::string::npos);
}

} // namespace
} // namespace winkhold::testing
