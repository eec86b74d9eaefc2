/// What a board's port has said, as a recording.
#include "link/simulated_board.hpp"
#include "support.hpp"

#include <algorithm>

using namespace capture_test;
using winkhold::host::Caveat;
using winkhold::testing::SimulatedBoard;

namespace {

std::string ride() {
    SimulatedBoard board(4'294'000'000u); // its clock wraps on the way
    board.run(100'000, 0);
    board.flash(Lines::left, 5);
    board.flash(Lines::right | Lines::brake, 5);
    return board.said();
}

std::int64_t count_of(const std::vector<Caveat>& caveats, std::string_view name) {
    const auto found =
        std::find_if(caveats.begin(), caveats.end(), [&](const Caveat& one) { return one.name == name; });
    return found == caveats.end() ? 0 : found->count;
}

} // namespace

TEST(LinkLog, IsReadAsAnyRecording) {
    for (const char* head : {"# winkhold link 2\n", "# winkhold link 2\r\n", ""}) {
        const Trace trace = read(head + ride());
        ASSERT_EQ(trace.edges.size(), 21u);
        EXPECT_EQ(trace.edges[0], (Edge{0, lines(0)}));
        EXPECT_EQ(trace.edges[1], (Edge{100'000, lines(1)}));
        EXPECT_EQ(trace.edges[11], (Edge{3'600'000, lines(6)}));
        EXPECT_EQ(trace.edges.back().t_us, 100'000 + 9 * 700'000 + 350'000);
        EXPECT_TRUE(caveats_of(head + ride()).empty());
    }
}

TEST(LinkLog, TapsAreChosenByName) {
    EXPECT_EQ(read(ride(), {.left = "right", .right = "none", .brake = "none"}).edges[1],
              (Edge{3'600'000, lines(1)}));
    const TempFile file(ride());
    EXPECT_NE(refusal_of_file(file.path(), {.left = "blinker"}).find("blinker"), std::string::npos);
    EXPECT_NE(refusal_of_file(file.path(), {.time_unit = "ms"}).find("leave --time-unit out"),
              std::string::npos);
}

TEST(LinkLog, MayBeCutAnywhere) {
    const std::string whole = ride();
    const Trace all = read(whole);
    for (std::size_t at = 40; at < whole.size(); at += 3) {
        const std::string head = whole.substr(0, at); // as a kill leaves it
        if (head.find(" e ") == head.npos || at < 150) continue;
        const Trace trace = read(head);
        EXPECT_TRUE(std::equal(trace.edges.begin(), trace.edges.end(), all.edges.begin())) << at;
        const TempFile tail("# winkhold link 2\n" + whole.substr(at)); // as joining late does
        try {
            const Trace rest = read_file(tail.path());
            EXPECT_LE(rest.edges.size(), all.edges.size());
            EXPECT_EQ(rest.edges.back().lines, all.edges.back().lines);
        } catch (const winkhold::host::InputError& error) {
            EXPECT_GT(at, whole.size() - 90) << error.what();
        }
    }
}

TEST(LinkLog, WhatIsLostIsTold) {
    const std::string whole = ride();
    std::string damaged = whole;
    const std::size_t line = damaged.find('\n', damaged.size() / 2) + 1;
    damaged[line + 12] = '~';
    const auto spoilt = caveats_of(damaged);
    EXPECT_EQ(count_of(spoilt, "lines-damaged"), 1);
    EXPECT_EQ(count_of(spoilt, "lines-missing"), 1);
    std::string shorter = whole;
    shorter.erase(line, shorter.find('\n', line) + 1 - line);
    const auto fewer = caveats_of(shorter);
    EXPECT_EQ(count_of(fewer, "lines-damaged"), 0);
    EXPECT_EQ(count_of(fewer, "lines-missing"), 1);
    EXPECT_TRUE(std::any_of(fewer.begin(), fewer.end(), [](const Caveat& one) { return one.is_incomplete; }));
    EXPECT_EQ(count_of(caveats_of(whole + ride()), "board-restarts"), 1);
}

TEST(LinkLog, EdgesThatTheBoardDroppedAreTold) {
    SimulatedBoard board;
    board.run(9'000'000, 0); // counters come with every eighth heartbeat
    board.port(1);
    board.flash(Lines::left, 200, 4'000, 4'000);
    board.port(25);
    board.run(9'000'000, 0);
    const auto caveats = caveats_of(board.said());
    EXPECT_GT(count_of(caveats, "edges-lost"), 100);
    EXPECT_GE(count_of(caveats, "lines-missing"), count_of(caveats, "edges-lost"));
}

TEST(LinkLog, IsRefusedWhereItSaysNothing) {
    const TempFile newer("# winkhold link 3\n" + ride());
    EXPECT_NE(refusal_of_file(newer.path()).find("another version"), std::string::npos);
    const TempFile nothing("# winkhold link 2\nrubbish\n:12");
    EXPECT_NE(refusal_of_file(nothing.path()).find("was anything recorded"), std::string::npos);
    std::string noise("# winkhold link 2\n");
    for (int i = 0; i < 100'000; ++i)
        noise += static_cast<char>(i * 7919 % 251);
    const TempFile rubbish(noise);
    EXPECT_NE(refusal_of_file(rubbish.path()).find("was anything recorded"), std::string::npos);
}
