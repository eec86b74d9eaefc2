#include "support.hpp"

using namespace capture_test;

namespace {

// Two scalars, left with code l and right with code r, behind a timescale of 1 us.
std::string two_wires(std::string_view changes) {
    return fmt::format("$timescale 1 us $end\n$var wire 1 l left $end\n$var wire 1 r right $end\n"
                       "$enddefinitions $end\n{}",
                       changes);
}

Trace read_vcd(std::string_view definitions, std::string_view changes, const RecordingOptions& options = {}) {
    return read(fmt::format("$timescale 1 us $end {} $enddefinitions $end\n{}", definitions, changes),
                options);
}

} // namespace

TEST(VcdRead, ChangesHoldFromTheirTimeStampOn) {
    const Trace trace = read(two_wires("#0\n$dumpvars\n0l\n0r\n$end\n#250\n1l\n#400\n0l\n1r\n#500\n"));
    EXPECT_EQ(trace.edges, edges({{0, 0}, {250, 1}, {400, 2}}));
    EXPECT_EQ(trace.end_us, 500);
}

TEST(VcdRead, TheFirstTimeStampIsAnEdgeWhateverItSays) {
    EXPECT_EQ(read(two_wires("#70\n#90\n")).edges, edges({{70, 0}}));
    EXPECT_EQ(read(two_wires("#70\n1l\n1r\n")).edges, edges({{70, 3}}));
}

TEST(VcdRead, ValuesAheadOfTheFirstTimeStampCount) {
    EXPECT_EQ(read(two_wires("$dumpvars 1l 0r $end\n#10\n#20 1r\n")).edges, edges({{10, 1}, {20, 3}}));
}

TEST(VcdRead, ChangesOfOneMomentMakeOneEdge) {
    EXPECT_EQ(read(two_wires("#0\n0l 0r\n#5\n1l\n0l\n1r\n#6\n1l\n0l\n#7\n")).edges, edges({{0, 0}, {5, 2}}));
}

TEST(VcdRead, TimeStampsMayRepeat) {
    EXPECT_EQ(read(two_wires("#5\n1l\n#5\n0l\n#5\n1l\n")).edges, edges({{5, 1}, {5, 0}, {5, 1}}));
}

TEST(VcdRead, AnyWhiteSpaceSeparatesWords) {
    const auto expected = edges({{0, 0}, {5, 1}, {9, 3}});
    EXPECT_EQ(read(two_wires("#0 0l 0r #5 1l #9 1r")).edges, expected);
    EXPECT_EQ(read(two_wires("#0\r\n0l\r\n0r\r\n#5\r\n1l\r\n#9\r\n1r\r\n")).edges, expected);
    EXPECT_EQ(read(two_wires("\n\n#0\t0l\v0r\f#5\n\n\n1l   #9 1r \n \n")).edges, expected);
    EXPECT_EQ(read("\xEF\xBB\xBF \n" + two_wires("#0\n0l\n#5\n1l\n#9\n1r\n")).edges, expected);
}

TEST(VcdRead, TimescalesFromSecondsToFemtoseconds) {
    const auto end_of = [](std::string_view timescale, std::string_view ticks) {
        return read(fmt::format("$timescale {} $end $var wire 1 l left $end $var wire 1 r right $end "
                                "$enddefinitions $end #0 0l #{} 1l ",
                                timescale, ticks))
            .end_us;
    };
    EXPECT_EQ(end_of("1 s", "7"), 7'000'000);
    EXPECT_EQ(end_of("10s", "7"), 70'000'000);
    EXPECT_EQ(end_of("100 s", "7"), 700'000'000);
    EXPECT_EQ(end_of("1ms", "7"), 7'000);
    EXPECT_EQ(end_of("100\nms", "7"), 700'000);
    EXPECT_EQ(end_of("1us", "7"), 7);
    EXPECT_EQ(end_of("10 us", "7"), 70);
    EXPECT_EQ(end_of("100 ns", "79"), 7);
    EXPECT_EQ(end_of("1ns", "7999"), 7);
    EXPECT_EQ(end_of("1 ps", "7999999"), 7);
    EXPECT_EQ(end_of("100 ps", "79999"), 7);
    EXPECT_EQ(end_of("1 fs", "7999999999"), 7);
    EXPECT_EQ(end_of("10 fs", "18446744073709551615"), 184'467'440'737);
    EXPECT_EQ(end_of("1 us", "315576000000000"), winkhold::host::latest_us);
    EXPECT_EQ(end_of("100 s", "3155760"), winkhold::host::latest_us);
}

TEST(VcdRead, UnknownAndHighImpedanceKeepTheLevel) {
    EXPECT_EQ(read(two_wires("#0\nxl\nzr\n#5\n1l\n1r\n#6\nXl\nZr\n#7\nzl\n0r\n#8\n0l\n")).edges,
              edges({{0, 0}, {5, 3}, {7, 1}, {8, 0}}));
}

TEST(VcdRead, DumpingOffAndOnKeepsTheLevel) {
    EXPECT_EQ(
        read(two_wires("#0\n$dumpall\n1l\n0r\n$end\n#5\n$dumpoff\nxl\nxr\n$end\n#9\n$dumpon\n1l\n1r\n$end\n"))
            .edges,
        edges({{0, 1}, {9, 3}}));
}

TEST(VcdRead, OtherSectionsArePassedOver) {
    EXPECT_EQ(
        read_vcd("$date 1 May $end $version none $end $comment $var wire 1 x left $enddefinitions #3 $end "
                 "$attrbegin misc 07 $end $var reg 1 l left $end $var wire 1 r right $end",
                 "#0 $comment 1l #99 $end 0l #5 $comment\n\n$end 1r #9\n")
            .edges,
        edges({{0, 0}, {5, 2}}));
}

TEST(VcdRead, EveryTapHasItsName) {
    EXPECT_EQ(read_vcd("$var wire 1 a left $end $var reg 1 b right $end $var tri 1 c brake $end "
                       "$var supply0 1 d tail $end $var logic 1 e supply $end",
                       "#0 0a #1 1a #2 1b #3 1c #4 1d #5 1e ")
                  .edges,
              edges({{0, 0}, {1, 1}, {2, 3}, {3, 7}, {4, 15}, {5, 31}}));
}

TEST(VcdRead, CodesMayBeOfAnyLength) {
    EXPECT_EQ(read_vcd("$var wire 1 !\" left $end $var wire 1 !\"# right $end $var wire 1 ! other $end",
                       "#0 0!\" #1 1!\"# #2 1!\" #3 1! #4 b0 !\"# ")
                  .edges,
              edges({{0, 0}, {1, 2}, {2, 3}, {4, 1}}));
}

TEST(VcdRead, OneCodeMayHaveSeveralNames) {
    const std::string definitions = "$scope module top $end $var wire 1 s left $end $upscope $end "
                                    "$scope module sub $end $var wire 1 s left $end $var wire 1 r right $end "
                                    "$upscope $end $var wire 1 s brake $end";
    EXPECT_EQ(read_vcd(definitions, "#0 0s #5 1s ").edges, edges({{0, 0}, {5, 1}}));
}

TEST(VcdRead, ScopesMayLeadAName) {
    const std::string definitions = "$scope module top $end $var wire 1 a left $end "
                                    "$scope module sub $end $var wire 1 b left $end $var wire 1 r right $end "
                                    "$upscope $end $upscope $end $var wire 1 c outer $end";
    const std::string changes = "#0 0a #1 1a #2 1b #3 0a #4 1c ";
    EXPECT_EQ(read_vcd(definitions, changes, {.left = "top.left"}).edges, edges({{0, 0}, {1, 1}, {3, 0}}));
    EXPECT_EQ(read_vcd(definitions, changes, {.left = "top.sub.left"}).edges, edges({{0, 0}, {2, 1}}));
    EXPECT_EQ(read_vcd(definitions, changes, {.left = "sub.left"}).edges, edges({{0, 0}, {2, 1}}));
    EXPECT_EQ(read_vcd(definitions, changes, {.left = "outer"}).edges, edges({{0, 0}, {4, 1}}));
}

TEST(VcdRead, ANameInFullComesAheadOfTheSameNameInAScope) {
    const std::string definitions = "$scope module top $end $var wire 1 a left $end $upscope $end "
                                    "$var wire 1 b left $end $var wire 1 r right $end";
    EXPECT_EQ(read_vcd(definitions, "#0 0a #1 1a #2 1b ").edges, edges({{0, 0}, {2, 1}}));
}

TEST(VcdRead, BitsOfAVectorAreNumberedAsItsRange) {
    const auto first_high = [](std::string_view declared, std::string_view bit) {
        const Trace trace = read_vcd(fmt::format("$var wire 4 v {} $end $var wire 1 r right $end", declared),
                                     "#0 b0000 v #1 b0001 v #2 b0010 v #3 b0100 v #4 b1000 v #5 b0 v ",
                                     {.left = std::string(bit)});
        return trace.edges.at(1).t_us;
    };
    EXPECT_EQ(first_high("bus [3:0]", "bus[0]"), 1);
    EXPECT_EQ(first_high("bus [3:0]", "bus[3]"), 4);
    EXPECT_EQ(first_high("bus[3:0]", "bus[1]"), 2);
    EXPECT_EQ(first_high("bus [0:3]", "bus[0]"), 4);
    EXPECT_EQ(first_high("bus [0:3]", "bus[3]"), 1);
    EXPECT_EQ(first_high("bus [10:7]", "bus[8]"), 2);
    EXPECT_EQ(first_high("bus [ 1 : -2 ]", "bus[-2]"), 1);
    EXPECT_EQ(first_high("bus", "bus[2]"), 3);
}

TEST(VcdRead, TwoBitsOfOneVectorAreTwoTaps) {
    EXPECT_EQ(read_vcd("$scope module m $end $var wire 3 v taps [2:0] $end $upscope $end",
                       "#0 b0 v #1 b1 v #2 b11 v #3 b110 v #4 B000 v ",
                       {.left = "taps[0]", .right = "m.taps[1]"})
                  .edges,
              edges({{0, 0}, {1, 1}, {2, 3}, {3, 2}, {4, 0}}));
}

TEST(VcdRead, ShortVectorValuesAreExtended) {
    // From 1 the missing bits are 0, from 0 they are 0, from x and z they are x and z: bit 3 is then left as
    // it was.
    EXPECT_EQ(
        read_vcd("$var reg 4 v bus [3:0] $end $var wire 1 r right $end",
                 "#0 b1000 v #1 bx v #2 bz01 v #3 b1 v #4 b1000 v #5 b01 v #6 b1xxx v #7 bX000 v #8 bx0 v ",
                 {.left = "bus[3]"})
            .edges,
        edges({{0, 1}, {3, 0}, {4, 1}, {5, 0}, {6, 1}}));
}

TEST(VcdRead, AVectorMayChangeByOneDigit) {
    EXPECT_EQ(read_vcd("$var reg 4 v bus [3:0] $end $var wire 1 r right $end",
                       "#0 b1000 v #1 1r #2 1v #3 b1000 v #4 xv #5 0v ", {.left = "bus[3]"})
                  .edges,
              edges({{0, 1}, {1, 3}, {2, 2}, {3, 3}, {5, 2}}));
}

TEST(VcdRead, ABitDumpedAloneKeepsItsBrackets) {
    EXPECT_EQ(read_vcd("$var wire 1 a bus [0] $end $var wire 1 b bus [1] $end", "#0 0a 0b #1 1b #2 1a ",
                       {.left = "bus[0]", .right = "bus[1]"})
                  .edges,
              edges({{0, 0}, {1, 2}, {2, 3}}));
}

TEST(VcdRead, ARealSignalIsInVolts) {
    EXPECT_EQ(
        read_vcd("$var real 64 l left $end $var realtime 1 r right_v $end $var wire 1 s supply $end",
                 "#0 r0 l r1.2e1 r 1s #10 r5 l #20 R5.5 l #30 r4.2 l #40 r-0.3 l #50 r3.5 r #60 r3.4 r ")
            .edges,
        edges({{0, 18}, {20, 19}, {40, 18}, {60, 16}}));
    EXPECT_EQ(read_vcd("$var real 1 l left $end $var wire 1 r right $end", "#0 r0 l #1 r2.5 l #2 r1 l ",
                       {.on_above_v = 2, .off_below_v = 1.5})
                  .edges,
              edges({{0, 0}, {1, 1}, {2, 0}}));
}

TEST(VcdRead, ActiveLowInvertsTheSidesOnly) {
    EXPECT_EQ(read_vcd("$var wire 1 l left $end $var real 1 r right $end $var wire 1 s supply $end",
                       "#0 1l r12 r 1s #5 0l #9 r0 r 0s #12 xl #15 1l ", {.active_high = false})
                  .edges,
              edges({{0, 16}, {5, 17}, {9, 3}, {15, 2}}));
    EXPECT_EQ(
        read_vcd("$var wire 1 l left $end", "#0 1l #5 0l ", {.right = "none", .active_high = false}).edges,
        edges({{0, 0}, {5, 1}}));
}

TEST(VcdRead, ActiveLowIsNotLitUntilItIsKnown) {
    EXPECT_EQ(
        read_vcd("$var wire 1 l left $end $var wire 1 r right $end", "#0 xl #5 0l ", {.active_high = false})
            .edges,
        edges({{0, 0}, {5, 1}}));
}

TEST(VcdRead, UnknownLevelsAreCountedOnTapsOnly) {
    EXPECT_TRUE(caveats_of(two_wires("#0\n0l\n0r\n#5\n1l\n")).empty());
    const auto caveats = caveats_of(
        fmt::format(
            "$timescale 1 us $end $var wire 1 l left $end $var wire 2 r bus $end $var wire 1 o other $end "
            "$enddefinitions $end #0 0l xo b00 r #5 1l b1x r #7 zl bx0 r #9 zo bx r "),
        {.right = "bus[0]"});
    ASSERT_EQ(caveats.size(), 1u);
    EXPECT_EQ(caveats[0].name, "level-not-known");
    EXPECT_EQ(caveats[0].count, 3);
    EXPECT_EQ(caveats[0].first_us, 5);
    EXPECT_FALSE(caveats[0].is_incomplete);
}

// The sample file of IEEE 1364-2005, 18.2.3 (from memory), with left at net2, right at bit 2 of the
// accumulator.
TEST(VcdRead, TheSampleFileOfTheStandard) {
    const std::string sample =
        "$date June 26, 1989 10:05:41\n$end\n$version VERILOG-SIMULATOR 1.0a\n$end\n$timescale 1 ns\n$end\n"
        "$scope module top $end\n$scope module m1 $end\n$var trireg 1 *@ net1 $end\n$var trireg 1 *# net2 "
        "$end\n"
        "$var trireg 1 *$ net3 $end\n$upscope $end\n$scope task t1 $end\n"
        "$var reg 32 (k accumulator[31:0] $end\n$var integer 32 {2 index $end\n$upscope $end\n$upscope $end\n"
        "$enddefinitions $end\n$comment\nNote: $dumpvars was executed at time '#500'.\nAll initial values "
        "are "
        "dumped at this time.\n$end\n\n#500\n$dumpvars\nx*@\nx*#\nx*$\nbx (k\nbx {2\n$end\n#505\n0*@\n1*#\n"
        "1*$\nb10zx1110x11100 (k\nb1111000101z01x {2\n#510\n0*$\n#520\n1*$\n#530\n0*$\nbz (k\n#535\n$dumpall "
        "0*@ 1*# 0*$\nbz (k\nb1111000101z01x {2\n$end\n#540\n1*$\n#1000\n$dumpoff\nx*@\nx*#\nx*$\nbx (k\n"
        "bx {2\n$end\n#2000\n$dumpon\nz*@\n1*#\n0*$\nb0 (k\nb0 {2\n$end\n#2010\n1*$\n";
    const RecordingOptions options{.left = "net2", .right = "accumulator[2]"};
    const Trace trace = read(sample, options);
    EXPECT_EQ(trace.edges, edges({{0, 0}, {0, 3}, {2, 1}}));
    EXPECT_EQ(trace.end_us, 2);
    ASSERT_EQ(caveats_of(sample, options).size(), 1u);
    EXPECT_EQ(caveats_of(sample, options)[0].count,
              6); // both at #500 and #1000, the accumulator at #530 and #535
}

// How short values go on to the left: IEEE 1364-2005, 18.2.2 (from memory): 10 is 0010, X10 is XX10, ZX0 is
// ZZX0, 0X10 is 0X10, in a vector of four bits.
TEST(VcdRead, ShortValuesGoOnAsInTheStandard) {
    const auto bit = [](std::string_view value, int number) {
        // "0" and "1" are what is read; "x": stays, whichever level was ahead
        std::string read_as;
        for (const std::string_view before : {"b0000", "b1111"}) {
            const Trace trace =
                read_vcd("$var wire 4 v bus [3:0] $end", fmt::format("#0 {} v #1 {} v #2 ", before, value),
                         {.left = fmt::format("bus[{}]", number), .right = "none"});
            read_as += trace.edges.back().lines.has(Lines::left) ? '1' : '0';
        }
        return read_as == "00" ? '0' : read_as == "11" ? '1' : 'x';
    };
    const auto all_bits = [&](std::string_view value) {
        return std::string{bit(value, 3), bit(value, 2), bit(value, 1), bit(value, 0)};
    };
    EXPECT_EQ(all_bits("b10"), "0010");
    EXPECT_EQ(all_bits("bX10"), "xx10");
    EXPECT_EQ(all_bits("bZX0"), "xxx0");
    EXPECT_EQ(all_bits("b0X10"), "0x10");
}
