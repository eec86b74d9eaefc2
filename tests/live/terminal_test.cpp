// The screen in a real terminal, with a board behind it: sizes, a terminal without colour, one without UTF-8.
#include "live/process.hpp"
#include "program/run.hpp"
#include "text/lines.hpp"

#include <fmt/format.h>

namespace winkhold::testing {
namespace {

/// One terminal of its own server, with the program in it.
class ATerminal : public ::testing::Test {
protected:
    ~ATerminal() override { tmux("kill-server"); }

    std::string tmux(const std::string& words) const {
        const std::string out = scratch.path("tmux.out");
        const int status = std::system(
            fmt::format("tmux -S '{}' -f /dev/null {} >'{}' 2>&1", scratch.path("t"), words, out).c_str());
        EXPECT_TRUE(status == 0 || words == "kill-server") << words << scratch.read("tmux.out");
        return scratch.read("tmux.out");
    }
    /// The board, as after its power was off.
    void power_on() {
        board.reset();
        scratch.write("board.out", "");
        board = std::make_unique<Process>(
            std::vector<std::string>{WINKHOLD_BOARD, scratch.path("port"), "--store", scratch.path("store")},
            scratch.path("board.out"), scratch.path("board.err"));
        for (int i = 0; i < 500 && scratch.read("board.out") != "ready\n"; ++i)
            wait_ms(10);
    }
    void start(int columns, int rows, const std::string& environment) {
        power_on();
        tmux(fmt::format(
            "new-session -d -s s -x {} -y {} \"cd '{}'; env {} '{}' live port; echo ended with \\$?; "
            "sleep 60\"",
            columns, rows, scratch.path(), environment, WINKHOLD_PROGRAM));
    }
    void press(const std::string& keys) const { tmux("send-keys -t s " + keys); }
    /// The screen, once `part` stands in it; the last one seen if it never does.
    std::string screen(const std::string& part) const {
        std::string seen;
        for (int i = 0; i < 200 && seen.find(part) == std::string::npos; ++i) {
            wait_ms(100);
            seen = tmux("capture-pane -p -t s");
        }
        return seen;
    }
    ::testing::AssertionResult shows(const std::string& part) const {
        const std::string seen = screen(part);
        if (seen.find(part) != std::string::npos) return ::testing::AssertionSuccess();
        return ::testing::AssertionFailure() << part << " is not on:\n" << seen;
    }

    Scratch scratch;
    std::unique_ptr<Process> board;
};

TEST_F(ATerminal, WhatIsTriedIsGoneWithThePowerAndWhatIsStoredIsNot) {
    start(80, 24, "LC_ALL=C.UTF-8");
    EXPECT_TRUE(shows("85.7/min"));
    EXPECT_TRUE(shows("\u2588")) << "blocks";
    press("Down Down - - - -");
    EXPECT_TRUE(shows("> hold 200 ms not 1000 ms"));
    EXPECT_TRUE(shows("changed left"));
    press("Enter");
    EXPECT_TRUE(shows("settings in force: tried"));
    power_on();
    EXPECT_TRUE(shows("settings in force: firmware"));
    press("- - - -");
    EXPECT_TRUE(shows("hold 200 ms not 1000 ms"));
    press("Enter");
    EXPECT_TRUE(shows("settings in force: tried"));
    press("s");
    press("y");
    EXPECT_TRUE(shows("settings in force: stored"));
    power_on();
    EXPECT_TRUE(shows("settings in force: stored"));
    press("q");
    EXPECT_TRUE(shows("ended with")) << "and the terminal is as it was";
}

TEST_F(ATerminal, OfAnySizeIsFilledAndNeverOverfilled) {
    start(80, 24, "LC_ALL=C.UTF-8");
    EXPECT_TRUE(shows("85.7/min"));
    EXPECT_TRUE(shows("w zoom q quit"));
    tmux("resize-window -t s -x 200 -y 60");
    EXPECT_TRUE(shows("w zoom  q quit"));
    EXPECT_EQ(too_wide(screen("85.7/min"), 200), std::vector<std::string>{});
    EXPECT_FALSE(too_wide(screen("85.7/min"), 150).empty()) << "it uses the room";
    tmux("resize-window -t s -x 40 -y 8");
    EXPECT_TRUE(shows("make the terminal larger"));
    tmux("resize-window -t s -x 80 -y 24");
    EXPECT_TRUE(shows("settings in force"));
}

TEST_F(ATerminal, WithoutColourAndWithoutUtf8SaysTheSameInPlainCharacters) {
    start(80, 24, "TERM=vt100 LC_ALL=C");
    EXPECT_TRUE(shows("85.7/min"));
    EXPECT_TRUE(shows("####"));
    EXPECT_TRUE(shows("At standstill only, never while riding."));
    const std::string seen = tmux("capture-pane -e -p -t s");
    for (const char* colour : {"\x1b[31m", "\x1b[32m", "\x1b[33m"})
        EXPECT_EQ(seen.find(colour), std::string::npos);
    EXPECT_TRUE(std::none_of(seen.begin(), seen.end(), [](char c) { return (c & 0x80) != 0; }));
    press("q");
    EXPECT_TRUE(shows("ended with"));
}

TEST_F(ATerminal, HasColoursUnlessSomebodyWantsNone) {
    start(80, 24, "TERM=xterm-256color LC_ALL=C.UTF-8");
    EXPECT_TRUE(shows("85.7/min"));
    EXPECT_NE(tmux("capture-pane -e -p -t s").find("\x1b[31m"), std::string::npos) << "the caution";
    tmux("kill-server");
    start(80, 24, "NO_COLOR=1 TERM=xterm-256color LC_ALL=C.UTF-8");
    EXPECT_TRUE(shows("85.7/min"));
    EXPECT_EQ(tmux("capture-pane -e -p -t s").find("\x1b[31m"), std::string::npos);
}

TEST_F(ATerminal, ThatIsNotKnownIsToldSo) {
    start(80, 24, "TERM=none-such");
    EXPECT_TRUE(shows("this terminal is not known (TERM)"));
    EXPECT_TRUE(shows("ended with 2"));
}

} // namespace
} // namespace winkhold::testing
