// Files that are not meant well, or not meant at all: each is refused in one line, and soon.
#include "program/run.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <sys/stat.h>

namespace winkhold::testing {
namespace {

const std::string nominal = "[vehicle]\nfile = \"" WINKHOLD_SOURCE "/data/scenarios/nominal.toml\"\n";

std::string repeated(const std::string& text, int times) {
    std::string all;
    for (int i = 0; i < times; ++i)
        all += text;
    return all;
}

struct Hostile {
    std::string name;
    std::string text;
    std::string command; ///< FILE stands for the file
    std::string says;
};

void PrintTo(const Hostile& hostile, std::ostream* out) {
    *out << hostile.name;
}

class RefusesHostile : public ::testing::TestWithParam<Hostile> {};

TEST_P(RefusesHostile, InOneLine) {
    const Scratch scratch;
    const std::string path = scratch.write("a.toml", GetParam().text);
    std::string command = GetParam().command;
    command.replace(command.find("FILE"), 4, path);
    const Ran ran = scratch.run(command);
    EXPECT_EQ(ran.exit_code, 2) << ran.out;
    EXPECT_NE(ran.err.find(GetParam().says), std::string::npos) << ran.err;
    EXPECT_EQ(ran.err.find('\n'), ran.err.size() - 1) << ran.err;
}

const std::string deep = repeated("a.", 40'000) + "a = 1\n";
const Hostile hostile[] = {
    {"a_name_of_forty_thousand_parts", deep, "electrics FILE", "deeper than 32 levels"},
    {"such_a_name_in_settings", deep, "decode data/recordings/left_flash.csv --settings FILE",
     "deeper than 32"},
    {"such_a_name_in_limits", deep, "limits data/recordings/left_flash.csv --limits-folder FILE",
     "deeper than 32"},
    {"brackets_without_end", "x = " + repeated("[", 50'000), "wiring FILE", "deeper than 32"},
    {"braces_without_end", "x = " + repeated("{a=", 50'000), "wiring FILE", "deeper than 32"},
    {"a_million_times_a_million_flashes",
     nominal + "[rider]\nrepeat = 1000000\nscript = [{ show = \"left\", flashes = 1000000 }]\n",
     "simulate FILE", "[rider] repeat: makes a ride of some"},
    {"pwm_all_day",
     nominal + "[lines]\npwm_hz = 25000\n[rider]\nscript = [{ show = \"left\", for = \"86400s\" }]\n",
     "simulate FILE", ":4: [lines] pwm_hz: makes"},
    {"spikes_all_day",
     nominal + "[volts]\nspikes_per_s = 10000\n[rider]\nscript = [{ show = \"left\", for = \"86400s\" }]\n",
     "simulate FILE", ":4: [volts] spikes_per_s: makes"},
    {"a_test_pulse_each_microsecond", nominal + "[lines]\ntest_pulse_every = \"1us\"\ntest_pulse = \"1us\"\n",
     "sweep FILE", ":4: [lines] test_pulse_every: makes"},
    {"text_without_quotes", "[lines]\ncount = four\n", "simulate FILE",
     "text stands in quotes: count = \"four\""},
    {"a_decimal_comma", "[lines]\nled_v = 78,5\n", "simulate FILE", "write led_v = 78.5, with a point"},
    {"a_time_without_unit", "[lines]\nbounce = 3\n", "simulate FILE", "the unit is missing; write \"3ms\""},
    {"a_number_in_quotes", "[board]\npin_ma = \"20\"\n", "electrics FILE", "\"20\" is text; write a number"},
    {"a_section_misspelt", "[frontend]\n", "electrics FILE",
     "frontend: unknown section; did you mean 'front_end'?"},
    {"a_field_misspelt", "[flasher]\nrate_per_mn = 3\n", "simulate FILE", "did you mean 'rate_per_min'?"},
    {"a_field_under_the_wrong_heading", "[flasher]\nbounce = \"3ms\"\n", "simulate FILE",
     "it belongs to [lines]"},
    {"a_field_by_its_old_name", "[flasher]\npattern = [\"1ms\", \"1ms\"]\n", "simulate FILE",
     "is now called cycle"},
    {"a_lamp_field_by_its_old_name",
     "[[lamps]]\nname = \"a\"\njob = \"turn\"\nside = \"left\"\ncount = 2\nhold = \"9ms\"\n", "sequence FILE",
     "is now called stay"},
    {"a_newer_format", "[vehicle]\nformat = 99\n", "electrics FILE",
     ":2: [vehicle] format: the file is of format 99"},
};

INSTANTIATE_TEST_SUITE_P(Program, RefusesHostile, ::testing::ValuesIn(hostile),
                         [](const auto& named) { return named.param.name; });

TEST(Hostile, PlacesThatAreNoFiles) {
    const Scratch scratch;
    EXPECT_EQ(scratch.run("limits data/recordings/left_flash.csv --truth /dev/zero").exit_code, 2);
    EXPECT_EQ(scratch.run("electrics /dev/zero").exit_code, 2);
    EXPECT_EQ(scratch.run("verify /proc").exit_code, 2);
    EXPECT_EQ(scratch.run("prove soak --flashes 3e11").exit_code, 2);
    ASSERT_EQ(mkfifo(scratch.path("pipe").c_str(), 0600), 0);
    const Ran ran = scratch.run("decode " + scratch.path("pipe"));
    EXPECT_EQ(ran.exit_code, 2);
    EXPECT_NE(ran.err.find("nobody has opened it to write"), std::string::npos) << ran.err;
}

TEST(Hostile, AChainOfSixFilesIsNoCircle) {
    const Scratch scratch;
    for (int i = 1; i < 6; ++i)
        scratch.write(fmt::format("c{}.toml", i), fmt::format("[vehicle]\nfile = \"c{}.toml\"\n", i + 1));
    scratch.write("c6.toml", "[vehicle]\nname = \"Last\"\n[battery]\ncapacity_ah = 8\n");
    EXPECT_NE(scratch.run("electrics " + scratch.path("c1.toml")).out.find("Last"), std::string::npos);
    scratch.write("c6.toml", "[vehicle]\nfile = \"c3.toml\"\n");
    EXPECT_NE(scratch.run("electrics " + scratch.path("c1.toml")).err.find("in a circle"), std::string::npos);
}

TEST(Hostile, NamesReachNoTerminalAndNoMarkup) {
    const Scratch scratch;
    const std::string evil = R"(=1 \u001b[31m\u009b31m\u202e [a](http://x) ![i](x) <b>)";
    std::ifstream demo(WINKHOLD_SOURCE "/data/vehicles/demo.toml");
    std::string text{std::istreambuf_iterator<char>(demo), {}};
    const auto put = [&](const std::string& old) {
        for (std::size_t at = text.find(old); at != std::string::npos; at = text.find(old, at + evil.size()))
            text.replace(at, old.size(), evil);
    };
    put("Demo bike");
    put("front left");
    const std::string file = scratch.write("evil.toml", text);
    for (const std::string command :
         {"electrics", "wiring", "checklist", "checklist --paper work", "checklist --paper entries",
          "checklist --paper labels", "checklist --paper parts", "checklist --paper owner",
          "limits --trials 1", "sequence"})
        for (const std::string form : {"", "--json", "--csv", "--markdown"}) {
            const Ran ran = scratch.run(command + " " + file + " " + form);
            if (ran.exit_code == 2) continue; // a form it doesn't have
            for (const char* acts : {"\033", "\u009b", "\u202e"})
                EXPECT_EQ((ran.out + ran.err).find(acts), std::string::npos) << command << form;
            if (form == "--json") {
                EXPECT_TRUE(nlohmann::json::accept(ran.out)) << command;
            }
            if (form == "--markdown") {
                EXPECT_EQ(ran.out.find(" [a](http"), std::string::npos) << command;
                EXPECT_EQ(ran.out.find(" <b>"), std::string::npos) << command;
            }
            if (form == "--csv") {
                EXPECT_EQ(ran.out.find(",=1 "), std::string::npos) << command;
            }
        }
}

TEST(Hostile, NamesReachNoMarkupAndNoCodeOfAPack) {
    const Scratch scratch;
    const std::string evil = R"(x \u001b[31m [a](http://x) <b> | ??/ \\)";
    std::ifstream demo(WINKHOLD_SOURCE "/data/vehicles/demo.toml");
    std::string text{std::istreambuf_iterator<char>(demo), {}};
    for (const std::string old : {"Demo bike", "front left", "\"TL\""}) {
        const std::string now = old[0] == '"' ? '"' + evil + '"' : evil;
        for (std::size_t at = text.find(old); at != std::string::npos; at = text.find(old, at + now.size()))
            text.replace(at, old.size(), now);
    }
    const std::string file = scratch.write("evil.toml", text + "# \\\n");
    const Ran ran = scratch.run("pack " + file + " " + scratch.path("board"));
    EXPECT_EQ(ran.exit_code, 0) << ran.err;
    EXPECT_EQ(ran.out.find('\033'), std::string::npos);
    const std::string sheet = scratch.read("board/README.md");
    for (const char* acts : {"\033", " [a](http", " <b>"})
        EXPECT_EQ(sheet.find(acts), std::string::npos) << acts;
    const std::string compile =
        "cd '" + scratch.path("board") +
        "' && echo '#include \"bike.hpp\"' | avr-g++ -std=c++14 -mmcu=atmega328p -Wall "
        "-Wextra -Werror -I. -fsyntax-only -x c++ - 2> ../err";
    EXPECT_EQ(std::system(compile.c_str()), 0) << scratch.read("err");
}

TEST(Hostile, AHundredThousandFlashesAreTakenAndOneMoreIsNot) {
    const Scratch scratch;
    for (const int flashes : {100'000, 100'001}) {
        std::string text = "time_us,left,right\n0,0,0\n";
        long long t_us = 1'000'000;
        for (int i = 0; i < flashes; ++i, t_us += 700'000)
            text += fmt::format("{},1,0\n{},0,0\n", t_us, t_us + 350'000);
        const std::string ride =
            scratch.write("ride.csv", text + std::to_string(t_us + 2'000'000) + ",0,0\n");
        for (const char* command : {"inspect ", "fit ", "sweep "}) {
            const Ran ran = scratch.run(command + ride);
            EXPECT_EQ(ran.exit_code == 2, flashes > 100'000) << command << flashes << ran.err;
        }
    }
}

TEST(Hostile, CommandsFindTheirDataAnywhere) {
    const Scratch scratch;
    const int status =
        std::system(("cd '" + scratch.path() +
                     "' && '" WINKHOLD_PROGRAM "' prove faults F01 --seeds 1 >.out 2>.err && "
                     "'" WINKHOLD_PROGRAM "' prove worth --flashes 50 --fault-seeds 1 >.out 2>.err")
                        .c_str());
    EXPECT_EQ(WEXITSTATUS(status), 0) << scratch.read(".err");
}

} // namespace
} // namespace winkhold::testing
