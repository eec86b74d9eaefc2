/// VCD as generators other than IEEE 1364's own write it: with values of IEEE 1076's languages, names of any
/// kind, and signals that nobody asks for.
#include "support.hpp"

using namespace capture_test;

namespace {

const auto flash = edges({{0, 0}, {1'000, 1}, {3'000, 2}});

// `more` declares further signals, `first` are values at 0 and `then` at 1 ms.
std::string dump(std::string_view more, std::string_view first = "", std::string_view then = "") {
    return fmt::format("$timescale 1 ms $end\n$scope module top $end\n$var wire 1 l left $end\n"
                       "$var wire 1 r right $end\n{}\n$upscope $end\n$enddefinitions $end\n"
                       "#0\n0l\n0r\n{}\n#1\n1l\n{}\n#3\n0l\n1r\n",
                       more, first, then);
}

} // namespace

TEST(VcdDialects, NineStates) {
    const std::string text =
        "$timescale 1 ms $end\n$var wire 1 l left $end\n$var reg 2 r b [1:0] $end\n$enddefinitions $end\n"
        "#0\nUl\nbUU r\n#1\nHl\nbWL r\n#2\n-l\nb-L r\n#3\nLl\nbHH r\n#4\nwl\nhl\nbl0 r\n";
    const RecordingOptions options{.right = "b[0]"};
    EXPECT_EQ(read(text, options).edges, edges({{0, 0}, {1'000, 1}, {3'000, 2}, {4'000, 1}}));
    const auto caveats = caveats_of(text, options);
    ASSERT_EQ(caveats.size(), 1u);
    EXPECT_EQ(caveats[0].count, 4);
    EXPECT_EQ(caveats[0].first_us, 0);
}

TEST(VcdDialects, TextsAndRealsArePassedOver) {
    EXPECT_EQ(read(dump("$var string 1 s state $end\n$var real 64 v speed $end\n$var event 1 e go $end",
                        "sidle s\ns s\nr0 v", "sturn to v and left s\nrnan v\n1e"))
                  .edges,
              flash);
    EXPECT_EQ(read(dump("$var string 0 $s state $end", "sa_text $s")).edges, flash);
}

TEST(VcdDialects, NamesMayBeOddOrMissing) {
    const std::string empty = "$scope module $end\n$var wire 1 x $end\n$upscope $end\n$upscope $end";
    EXPECT_EQ(read(dump(empty)).edges, flash);
    EXPECT_EQ(read(dump("$scope begin my block #1 $end\n$var wire 1 x y $end\n$upscope $end")).edges, flash);
    const std::string blanks = dump("$var wire 1 a Channel 0 $end\n$var wire 1 b \\odd.name $end\n"
                                    "$var wire 2 c bus [ 1 : 0 ] $end",
                                    "0a 0b b0 c", "1a 1b b10 c");
    for (const char* name : {"Channel 0", "top.Channel 0", "odd.name", "bus[1]"})
        EXPECT_EQ(read(blanks, {.left = name, .right = "none"}).edges, edges({{0, 0}, {1'000, 1}})) << name;
}

TEST(VcdDialects, DumpvarsMayStayOpen) {
    EXPECT_EQ(read("$timescale 1 ms $end\n$var wire 1 l left $end\n$var wire 1 r right $end\n"
                   "$enddefinitions $end\n$dumpvars\n0l\n0r\n#0\n#1\n1l\n#3\n$dumpall\n0l\n1r\n#4\n")
                  .edges,
              flash);
}

TEST(VcdDialects, AnOptionSaysWhatTimesCount) {
    const std::string text = "$var wire 1 l left $end\n$var wire 1 r right $end\n"
                             "$enddefinitions $end\n#0\n0l\n0r\n#1\n1l\n#3\n0l\n1r\n";
    EXPECT_EQ(read(text, {.time_unit = "ms"}).edges, flash);
    EXPECT_EQ(read("$timescale 1.5 ns $end\n" + text, {.time_unit = "ms"}).edges, flash);
    expect_refusal(text, 3, {"no $timescale", "--time-unit"});
    expect_refusal("$timescale 1.5 ns $end\n" + text, 1, {"\"1.5ns\"", "no fraction", "--time-unit"});
}

TEST(VcdDialects, ASignalThatNobodyAskedForRefusesNothing) {
    EXPECT_EQ(read(dump("$var wire 1 t tail $end\n$var wire 1 u tail $end")).edges, flash);
    EXPECT_EQ(read(dump("$var wire 8 t tail [7:0] $end", "b00000000 t", "b2 t")).edges, flash);
    EXPECT_EQ(read(dump("$var string 1 t brake $end", "soff t", "son t")).edges, flash);
    EXPECT_EQ(read(dump("$var wire 4 x a $end\n$var real 64 x b $end", "b11111 x", "r1 x")).edges, flash);
    const std::string percent = dump("$var real 64 b brake $end", "r0 b", "rnan b");
    EXPECT_EQ(read(percent).edges, flash);
    ASSERT_EQ(caveats_of(percent).size(), 1u);
    EXPECT_EQ(caveats_of(percent)[0].name, "tap-not-read");
    EXPECT_EQ(caveats_of(dump("$var wire 1 t tail $end\n$var wire 1 u tail $end"))[0].name, "tap-left-out");
}

TEST(VcdDialects, OtherTapsAreNamedOrLeftOut) {
    const std::string text =
        dump("$var real 64 b brake $end\n$var wire 1 s stop $end", "r0 b 0s", "r40 b 1s");
    EXPECT_EQ(read(text).edges, edges({{0, 0}, {1'000, 5}, {3'000, 6}}));
    EXPECT_EQ(read(text, {.brake = "none"}).edges, flash);
    EXPECT_EQ(read(text, {.brake = "none", .tail = "stop"}).edges, edges({{0, 0}, {1'000, 9}, {3'000, 10}}));
    expect_refusal(dump("$var real 64 b brake $end", "r0 b", "rnan b"), 14, {"finite"}, {.brake = "brake"});
}
