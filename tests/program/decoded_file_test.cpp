// `winkhold decode --out`: lines and answer in one file.
#include "program/run.hpp"

#include <nlohmann/json.hpp>

namespace winkhold::testing {
namespace {

const std::string flash =
    "time_us,left,right,supply\n0,0,0,1\n1000,1,0,1\n301000,0,0,1\n301000,0,0,0\n900000,0,0,0\n";

// What a line of the CSV says, by column.
std::string column(const std::string& csv, std::size_t row, const std::string& name) {
    std::istringstream rows(csv);
    std::string header;
    std::string line;
    std::getline(rows, header);
    for (std::size_t i = 0; i <= row; ++i)
        std::getline(rows, line);
    std::istringstream names(header);
    std::istringstream values(line);
    for (std::string each, value; std::getline(names, each, ',');) {
        std::getline(values, value, ',');
        if (each == name) return value;
    }
    ADD_FAILURE() << "no column " << name;
    return {};
}

TEST(DecodedFile, CsvHasARowForEachChangeOfLinesAnswerAndFaults) {
    const Scratch scratch;
    const std::string file = scratch.write("a.csv", flash);
    ASSERT_EQ(scratch.run("decode " + file + " --hold 400ms --out " + scratch.path("b.csv")).exit_code, 0);
    const std::string csv = scratch.read("b.csv");
    const auto rows = [&](const std::string& name) {
        std::string all;
        for (std::size_t row = 0; row < 7; ++row)
            all += column(csv, row, name) + " ";
        return all;
    };
    // start, rise, settled, fall, the fall settled, off 120 ms after the supply went
    EXPECT_EQ(rows("time_us"), "0 1000 6000 301000 301000 306000 421000 ");
    EXPECT_EQ(rows("left"), "0 1 1 0 0 0 0 ");
    EXPECT_EQ(rows("supply"), "1 1 1 1 0 0 0 ");
    EXPECT_EQ(rows("settled_left"), "0 0 1 1 1 0 0 ");
    EXPECT_EQ(rows("shown_left"), "0 0 1 1 1 1 0 ");
    EXPECT_EQ(rows("indication"), "0 0 1 1 1 1 0 ");
    EXPECT_EQ(column(csv, 7, "time_us"), "900000");
    EXPECT_EQ(std::count(csv.begin(), csv.end(), '\n'), 9);
}

TEST(DecodedFile, FaultsAreSignalsToo) {
    const Scratch scratch;
    const std::string file = scratch.write("a.csv", "time_us,left,right\n0,0,1\n5000000,0,1\n");
    ASSERT_EQ(scratch.run("decode " + file + " --out " + scratch.path("b.csv")).exit_code, 0);
    const std::string csv = scratch.read("b.csv");
    EXPECT_EQ(column(csv, 1, "right_stuck_on"), "0");
    EXPECT_EQ(column(csv, 2, "time_us"), "3005000");
    EXPECT_EQ(column(csv, 2, "right_stuck_on"), "1");
    EXPECT_EQ(column(csv, 2, "left_stuck_on"), "0");
}

TEST(DecodedFile, BothFormatsCanBeDecodedAgainWithTheSameAnswer) {
    const Scratch scratch;
    const std::string ride = scratch.path("ride.csv");
    ASSERT_EQ(scratch.run("simulate data/scenarios/worn.toml --seed 7 --out " + ride).exit_code, 0);
    const Ran first = scratch.run("decode --json " + ride + " --out " + scratch.path("b.vcd"));
    EXPECT_EQ(scratch.run("decode --json " + ride + " --out " + scratch.path("b.csv")).out, first.out);
    EXPECT_EQ(scratch.run("decode --json " + scratch.path("b.vcd")).out, first.out);
    EXPECT_EQ(scratch.run("decode --json " + scratch.path("b.csv")).out, first.out);
    EXPECT_EQ(scratch.run("decode --json " + ride).out, first.out);
}

// vcd2fst and fst2vcd (Debian's package gtkwave) share no code with this project.
TEST(DecodedFile, AnotherVcdReaderSeesTheSameSignals) {
    const Scratch scratch;
    const std::string ride = scratch.path("ride.csv");
    ASSERT_EQ(scratch.run("simulate data/scenarios/nominal.toml --out " + ride).exit_code, 0);
    ASSERT_EQ(scratch.run("decode " + ride + " --out " + scratch.path("b.vcd")).exit_code, 0);
    const std::string there_and_back = "cd '" + scratch.path("") +
                                       "' && vcd2fst b.vcd b.fst >/dev/null && "
                                       "fst2vcd -f b.fst -o c.vcd >/dev/null";
    ASSERT_EQ(std::system(there_and_back.c_str()), 0) << "Debian's package gtkwave has these tools";
    const std::string same = " --json --left shown_left --right shown_right";
    const Ran ours = scratch.run("decode " + scratch.path("b.vcd") + same);
    EXPECT_EQ(scratch.run("decode " + scratch.path("c.vcd") + same).out, ours.out);
    EXPECT_GT(nlohmann::json::parse(ours.out)["transitions"].size(), 3u);
}

TEST(DecodedFile, LostEdgesAreAFindingOfEveryFormOfOutput) {
    const Scratch scratch;
    const std::string log =
        scratch.write("a.log", "# winkhold recorder 1 tick_us=4\n0 00\n1000 01\no 12\n2000 00\n");
    for (const std::string format : {"", " --csv", " --json"}) {
        const Ran ran = scratch.run("decode " + log + format);
        EXPECT_EQ(ran.exit_code, 1);
        EXPECT_NE(ran.out.find("edges-lost"), std::string::npos) << ran.out;
    }
    const auto caveats = nlohmann::json::parse(scratch.run("decode --json " + log).out)["caveats"];
    ASSERT_EQ(caveats.size(), 1u);
    EXPECT_EQ(caveats[0]["count"], 12);
    EXPECT_EQ(caveats[0]["first_us"], 4'000);
    const Ran swept = scratch.run("sweep --target 0.9 " + log);
    EXPECT_NE(swept.err.find("edges-lost"), std::string::npos) << swept.err;
}

TEST(DecodedFile, RawSamplesAreDecodedByTheirRate) {
    const Scratch scratch;
    const std::string raw = scratch.write("a.raw", std::string(100, '\0') + std::string(300, '\1'));
    const std::string answer =
        "time_us,event,value,line\n0,indication,off,\n105000,indication,left,\n399000,end,,\n";
    EXPECT_EQ(scratch.run("decode --csv --rate 1kHz " + raw).out, answer);
    EXPECT_EQ(scratch.run("decode --csv --rate 1000Hz - ", raw).out, answer);
}

} // namespace
} // namespace winkhold::testing
