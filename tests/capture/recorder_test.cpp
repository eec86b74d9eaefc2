/// The log of the recorder firmware.
#include "support.hpp"

using namespace capture_test;

namespace {

const std::string head = "# winkhold recorder 1 tick_us=4\n";

// Refused in the first line behind the head and a good one.
void expect_line_refused(std::string_view line, std::initializer_list<std::string_view> parts) {
    expect_refusal(fmt::format("{}1000 00\n{}\n", head, line), 3, parts);
}

} // namespace

TEST(Recorder, EdgesAreCountedInTicks) {
    const Trace trace = read(head + "1000 00\n2000 01\n2001 0f\n3000 0A\nh 250000 0a\n");
    EXPECT_EQ(trace.edges, edges({{4'000, 0}, {8'000, 1}, {8'004, 15}, {12'000, 10}}));
    EXPECT_EQ(trace.end_us, 1'000'000);
}

TEST(Recorder, ATickMayHaveAnyLength) {
    const auto last_us = [](std::string_view tick, std::string_view ticks) {
        return read(fmt::format("# winkhold recorder 1 tick_us={}\n{} 01\n", tick, ticks)).edges.back().t_us;
    };
    EXPECT_EQ(last_us("1", "7"), 7);
    EXPECT_EQ(last_us("0.5", "7"), 3);
    EXPECT_EQ(last_us("1.024", "1000"), 1'024);
    EXPECT_EQ(last_us("1000", "2000"), 2'000'000);
}

TEST(Recorder, CommentsAndCarriageReturnsArePassedOver) {
    EXPECT_EQ(read("# winkhold recorder 1 tick_us=4\r\n# bench\r\n1 01\r\n#\r\n2 00\r\n").edges,
              edges({{4, 1}, {8, 0}}));
}

TEST(Recorder, SidesMayBeTakenFromOtherTapsAndInverted) {
    EXPECT_EQ(read(head + "0 0c\n1 04\n", {.left = "tail", .right = "brake"}).edges, edges({{0, 3}, {4, 2}}));
    EXPECT_EQ(read(head + "0 03\n1 02\n", {.active_high = false}).edges, edges({{0, 0}, {4, 1}}));
    EXPECT_EQ(read(head + "0 03\n1 01\n2 02\n", {.right = "none"}).edges, edges({{0, 1}, {8, 0}}));
}

TEST(Recorder, TheCountWrapsBetweenHeartbeats) {
    // 2^32 ticks of 4 us: 17179869184 us
    const Trace trace = read(head + "4294967290 01\nh 4294967295 01\n0 00\n5 02\nh 244000 02\n");
    EXPECT_EQ(trace.edges, edges({{17'179'869'160, 1}, {17'179'869'184, 0}, {17'179'869'204, 2}}));
    EXPECT_EQ(trace.end_us, 17'179'869'184 + 976'000);
}

TEST(Recorder, ManyWrapsAddUp) {
    std::string text = head;
    std::uint32_t tick = 0;
    std::int64_t ticks = 0;
    for (int second = 0; second < 60'000; ++second, tick += 250'000u, ticks += 250'000)
        text += fmt::format("h {} 00\n", tick);
    EXPECT_EQ(read(text + fmt::format("{} 01\n", tick)).edges.back(), (Edge{ticks * 4, lines(1)}));
    EXPECT_GT(ticks, std::int64_t{3} << 32);
}

TEST(Recorder, AWrapIsToldUpToTheLongestSilenceAndNoFurther) {
    // 2.5 s are 625000 ticks of 4 us
    const std::string before = head + "h 4294367296 00\n"; // 600000 ticks ahead of the wrap
    EXPECT_EQ(read(before + "24999 01\n").edges.back().t_us, (4'294'967'296 + 24'999) * 4);
    EXPECT_EQ(read(before + "25000 01\n").edges.back().t_us, (4'294'967'296 + 25'000) * 4);
    expect_refusal(before + "25001 01\n", 3, {"4294367296", "25001", "no heartbeat", "split the log"});
    expect_line_refused("999 01", {"from 1000 back to 999"});
}

TEST(Recorder, ASilenceIsAFinding) {
    EXPECT_TRUE(caveats_of(head + "0 00\n625000 01\n").empty());
    const auto caveats = caveats_of(head + "0 00\n1000 01\n626001 00\n9999999 00\n");
    ASSERT_EQ(caveats.size(), 1u);
    EXPECT_EQ(caveats[0].name, "heartbeat-missing");
    EXPECT_EQ(caveats[0].count, 2);
    EXPECT_EQ(caveats[0].first_us, 4'000);
    EXPECT_TRUE(caveats[0].is_incomplete);
}

TEST(Recorder, LostEdgesAreAFinding) {
    const auto caveats = caveats_of(head + "0 00\n1000 01\no 12\n2000 01\n3000 00\no 3\n");
    ASSERT_EQ(caveats.size(), 1u);
    EXPECT_EQ(caveats[0].name, "edges-lost");
    EXPECT_EQ(caveats[0].count, 15);
    EXPECT_EQ(caveats[0].first_us, 4'000);
    EXPECT_TRUE(caveats[0].is_incomplete);
    EXPECT_TRUE(caveats_of(head + "0 00\n1000 01\nh 2000 01\n").empty());
}

TEST(Recorder, AHeartbeatWithOtherLevelsShowsThatAnEdgeWasLost) {
    const std::string text = head + "0 00\nh 1000 01\n";
    EXPECT_EQ(read(text).edges, edges({{0, 0}, {4'000, 1}}));
    ASSERT_EQ(caveats_of(text).size(), 1u);
    EXPECT_EQ(caveats_of(text)[0].count, 1);
    EXPECT_EQ(caveats_of(head + "0 00\no 4\nh 1000 01\n")[0].count, 4);
}

TEST(Recorder, WhatIsNoLog) {
    expect_refusal("# winkhold log\n0 00\n", 1, {"starts with", "# winkhold recorder 1 tick_us=4"});
    expect_refusal("# winkhold recorder 2 tick_us=4\n0 00\n", 1, {"no head this program knows"});
    for (const std::string_view tick : {"", "0", "-4", "nan", "inf", "4us", "1e7", "0.0001", "1.0005"})
        expect_refusal(fmt::format("# winkhold recorder 1 tick_us={}\n0 00\n", tick), 1, {"tick_us="});
    expect_refusal(head, 1, {"no edge and no heartbeat"});
    expect_refusal(head + "# only a comment\n", 2, {"no edge and no heartbeat"});
}

TEST(Recorder, LinesThatAreNone) {
    for (const std::string_view line :
         {"", "2000", "2000 ", "2000 1", "2000 001", "2000 1g", "2000 10", "2000  01", "-1 01",
          "4294967296 01", "2000 01 ", "2000,01", "h2000 01", "h h 2000 01", "x", "2000 -1"})
        expect_line_refused(line, {"no line of a recorder's log", "cut off"});
    for (const std::string_view line : {"o ", "o -1", "o x", "o 1 2"})
        expect_line_refused(line, {"no count of lost edges"});
    expect_line_refused("# winkhold recorder 1 tick_us=4", {"started anew", "a recording of its own"});
}

TEST(Recorder, NotBeyondTenYears) {
    expect_refusal("# winkhold recorder 1 tick_us=1000000\n4000000000 00\n", 2, {"ten years", "tick_us"});
}
