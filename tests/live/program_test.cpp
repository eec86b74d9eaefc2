// `winkhold live` as a process on a pseudo-terminal, with a board that is a process, too.
#include "live/process.hpp"
#include "program/run.hpp"
#include "text/lines.hpp"
#include "winkhold/base/vehicle/vehicle.hpp"
#include "winkhold/taps/capture/recording.hpp"

#include <algorithm>
#include <csignal>

namespace winkhold::testing {
namespace {

std::ptrdiff_t lines_in(const std::string& text) {
    return std::count(text.begin(), text.end(), '\n');
}

/// The same without the line breaks.
std::string words_of(const std::string& text) {
    std::istringstream in(text);
    std::string words;
    for (std::string word; in >> word;)
        words += word + ' ';
    return words;
}

/// A board, and what is run on its port.
class OnAPort : public ::testing::Test {
protected:
    /// Ready when this returns.
    std::unique_ptr<Process> board(std::vector<std::string> options = {}) {
        std::vector<std::string> words{WINKHOLD_BOARD, port()};
        words.insert(words.end(), options.begin(), options.end());
        scratch.write("board.out", "");
        auto process = std::make_unique<Process>(words, scratch.path("board.out"), scratch.path("board.err"));
        for (int i = 0; i < 500 && scratch.read("board.out") != "ready\n"; ++i)
            wait_ms(10);
        EXPECT_EQ(scratch.read("board.out"), "ready\n");
        return process;
    }
    std::unique_ptr<Process> live(std::vector<std::string> options) {
        std::vector<std::string> words{WINKHOLD_PROGRAM, "live", port()};
        words.insert(words.end(), options.begin(), options.end());
        return std::make_unique<Process>(words, scratch.path("live.out"), scratch.path("live.err"));
    }
    std::string port() const { return scratch.path("port"); }
    std::string out() const { return scratch.read("live.out"); }
    std::string err() const { return scratch.read("live.err"); }

    Scratch scratch;
};

TEST_F(OnAPort, PlainLinesComeAndTheRecordingIsWhatTheBoardSaw) {
    const auto end = board();
    EXPECT_EQ(live({"--record", scratch.path("ride.log"), "--for", "6s"})->end(), 0) << err();
    EXPECT_NE(out().find("shows  left"), std::string::npos) << out();
    EXPECT_NE(out().find("taps   left"), std::string::npos);
    EXPECT_NE(out().find("board of vehicle 1a2b3c4d"), std::string::npos);
    EXPECT_NE(err().find("At standstill only"), std::string::npos);
    EXPECT_EQ(too_wide(out()), std::vector<std::string>{});
    const host::Trace trace = host::read_all(*host::open_recording(scratch.path("ride.log"), {}));
    ASSERT_GE(trace.edges.size(), 10u);
    for (std::size_t i = 2; i < trace.edges.size(); ++i) {
        EXPECT_EQ(trace.edges[i].t_us - trace.edges[i - 1].t_us, 350'000) << "the ride of the board";
        EXPECT_EQ(trace.edges[i].lines.bits(), trace.edges[i - 2].lines.bits());
    }
}

TEST_F(OnAPort, TheRecordingCanBeReadAfterAKillAtAnyMoment) {
    const auto end = board();
    for (const int ms : {700, 1'300, 2'100}) {
        const std::string path = scratch.path(fmt::format("killed-{}.log", ms));
        auto run = live({"--record", path});
        wait_ms(ms);
        EXPECT_EQ(run->end(SIGKILL), -1);
        const Ran decoded = scratch.run("decode '" + path + "'");
        EXPECT_LT(decoded.exit_code, 2) << decoded.err;
    }
}

TEST_F(OnAPort, EndsCleanlyOnAnInterruptAndOnAClosedPipe) {
    const auto end = board();
    auto run = live({});
    wait_ms(1'500);
    EXPECT_EQ(run->end(SIGINT), 0) << err();
    const int status =
        std::system(("timeout 20 '" WINKHOLD_PROGRAM "' live '" + port() + "' 2>'" + scratch.path("err") +
                     "' </dev/null | head -n 2 > '" + scratch.path("two") + "'")
                        .c_str());
    EXPECT_EQ(status, 0);
    EXPECT_EQ(lines_in(scratch.read("two")), 2);
}

TEST_F(OnAPort, APortThatIsMissingOrBusyOrNoneIsOneMessageWithWhatToDo) {
    EXPECT_EQ(live({})->end(), 2);
    EXPECT_NE(err().find("no such port; plug the board's adapter in"), std::string::npos) << err();
    EXPECT_EQ(lines_in(err()), 1) << err();
    scratch.write("port", "a file\n");
    EXPECT_EQ(live({})->end(), 2);
    EXPECT_NE(err().find("is no serial port"), std::string::npos) << err();
    const auto end = board();
    auto first = live({});
    wait_ms(500);
    const Ran second = scratch.run("live '" + port() + "' --for 1s");
    EXPECT_EQ(second.exit_code, 2);
    EXPECT_NE(second.err.find("another program has this port"), std::string::npos) << second.err;
    EXPECT_EQ(first->end(SIGINT), 0);
}

TEST_F(OnAPort, NothingIsWrittenOver) {
    const auto end = board();
    const std::string kept = scratch.write("kept.log", "precious\n");
    EXPECT_EQ(live({"--record", kept, "--for", "1s"})->end(), 2);
    EXPECT_NE(err().find("--force"), std::string::npos);
    EXPECT_EQ(scratch.read("kept.log"), "precious\n");
    const std::string bike = scratch.write("bike.toml", "[decoder]\nhold = \"900ms\"\n");
    EXPECT_EQ(live({"--record", bike, "--force", "--vehicle", bike, "--for", "1s"})->end(), 2);
    EXPECT_EQ(scratch.read("bike.toml"), "[decoder]\nhold = \"900ms\"\n");
}

TEST_F(OnAPort, UnpluggedAndPluggedInAgainItGoesOn) {
    auto end = board({"--for", "2"});
    auto run = live({});
    wait_ms(3'000);
    end = board();
    wait_ms(3'000);
    run->end(SIGINT);
    EXPECT_NE(out().find("the port is gone"), std::string::npos) << out();
    EXPECT_NE(out().find("the port is back"), std::string::npos);
    EXPECT_NE(out().find("the board began anew"), std::string::npos);
}

struct Damage {
    const char* name;
    std::vector<std::string> options;
    bool usable;
};

class OnABadWire : public OnAPort, public ::testing::WithParamInterface<Damage> {};

/// What is read whole says nothing false; what was lost is counted and told.
TEST_P(OnABadWire, NothingFalseIsShownAndWhatIsLostIsCounted) {
    const auto end = board(GetParam().options);
    const int code = live({"--record", scratch.path("bad.log"), "--for", "7s"})->end();
    EXPECT_TRUE(code == 0 || code == 1) << code << err();
    EXPECT_EQ(out().find("shows  right"), std::string::npos) << "left alone in these seconds";
    EXPECT_EQ(out().find("shows  hazard"), std::string::npos);
    EXPECT_EQ(out().find("make"), std::string::npos) << "no false difference";
    EXPECT_EQ(out().find("shows  left") != std::string::npos, GetParam().usable) << out();
    EXPECT_NE(err().find(" lines read"), std::string::npos);
    EXPECT_EQ(too_wide(out()), std::vector<std::string>{});
    const Ran decoded = scratch.run("decode --csv '" + scratch.path("bad.log") + "'");
    EXPECT_EQ(decoded.exit_code < 2, GetParam().usable) << decoded.err;
    EXPECT_EQ(decoded.out.find("indication,right"), std::string::npos) << decoded.out;
}

INSTANTIATE_TEST_SUITE_P(Live, OnABadWire,
                         ::testing::Values(Damage{"LostBytes", {"--lose", "0.01"}, true},
                                           Damage{"FewFlips", {"--flip", "1e-4"}, true},
                                           Damage{"DoubledLines", {"--double"}, true},
                                           Damage{"TwoSecondsSilent", {"--fall-silent", "3"}, true},
                                           Damage{"AnotherDevice", {"--foreign"}, false},
                                           Damage{"Rubbish", {"--rubbish"}, false}),
                         [](const auto& one) { return one.param.name; });

TEST_F(OnAPort, ManyFlipsSayNothingFalse) {
    const auto end = board({"--flip", "1e-2"});
    live({"--record", scratch.path("bad.log"), "--for", "7s"})->end();
    EXPECT_EQ(out().find("shows  right"), std::string::npos);
    EXPECT_EQ(out().find("shows  hazard"), std::string::npos);
    EXPECT_NE(err().find("damaged"), std::string::npos);
}

TEST_F(OnAPort, AnotherDeviceIsSaidToBeOne) {
    const auto end = board({"--foreign"});
    EXPECT_EQ(live({"--for", "5s"})->end(), 1);
    EXPECT_NE(words_of(out()).find("another device on this port"), std::string::npos) << out();
}

// Values by another CRC-32, zlib's.
TEST(VehicleHash, IsOneNumberForAllFilesOfAVehicle) {
    const TempFolder folder;
    const std::string below = folder.write("below.toml", "[decoder]\nhold = \"900ms\"\n");
    const std::string top = folder.write("top.toml", "[vehicle]\nfile = \"below.toml\"\n");
    EXPECT_EQ(host::Vehicle::read(below).hash(), 0xb42f5083u);
    EXPECT_EQ(host::Vehicle::read(top).hash(), 0xb5927e26u);
}

TEST_F(OnAPort, WhatIsStoredOnTheBoardComesHome) {
    const std::string bike = scratch.write("bike.toml", "# mine\n[decoder]\nhold = \"900ms\" # long\n");
    const std::string hash = fmt::format("{:08x}", host::Vehicle::read(bike).hash());
    scratch.write("store", " 6000 0 500000 10000 0 60000 100000 10000 120000 1 1 1\n");
    const auto end = board({"--hash", hash, "--store", scratch.path("store")});
    EXPECT_EQ(live({"--onto", bike, "--for", "2s"})->end(), 0) << err();
    EXPECT_EQ(scratch.read("bike.toml"), "# mine\n[decoder]\nhold = \"500ms\" # long\nsettle = \"6ms\"\n");
    EXPECT_NE(err().find("build the board from it"), std::string::npos) << err();
}

TEST_F(OnAPort, AWalkAsksTimesAndWritesWhatItFound) {
    const std::string bike = scratch.write("bike.toml", "# mine\n");
    const auto end = board({"--short"});
    EXPECT_EQ(live({"--walk", "--onto", bike, "--for", "5s"})->end(), 0) << err();
    EXPECT_NE(out().find("turn left on, for ten flashes"), std::string::npos) << out();
    EXPECT_NE(out().find("Left lamps and no others, front and rear? y or n"), std::string::npos);
    EXPECT_TRUE(scratch.read("bike.toml")
                    .starts_with("# mine\n\n[[measured]]\nwhat = \"left-rate-per-min\"\n"
                                 "value = 200.0\n"))
        << scratch.read("bike.toml");
}

TEST_F(OnAPort, ABoardOfAnotherVehicleLeavesTheFileAsItIs) {
    const auto end = board();
    const std::string bike = scratch.write("bike.toml", "[decoder]\nhold = \"900ms\"\n");
    EXPECT_EQ(live({"--onto", bike, "--for", "2s"})->end(), 0);
    EXPECT_NE(words_of(out()).find("not the one this board was built from"), std::string::npos) << out();
    EXPECT_NE(err().find("[decoder] stays as it is"), std::string::npos);
    EXPECT_EQ(scratch.read("bike.toml"), "[decoder]\nhold = \"900ms\"\n");
}

} // namespace
} // namespace winkhold::testing
