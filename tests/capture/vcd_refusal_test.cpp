#include "support.hpp"

using namespace capture_test;

namespace {

constexpr std::string_view definitions =
    "$timescale 1 us $end\n$var wire 1 l left $end\n$var wire 1 r right $end\n"
    "$var wire 4 v bus [3:0] $end\n$var real 64 a volts $end\n"
    "$enddefinitions $end\n#0\n0l\n";

// Refused in the ninth line, behind good definitions and a first value.
void expect_change_refused(std::string_view change, std::initializer_list<std::string_view> parts,
                           const RecordingOptions& options = {}) {
    expect_refusal(fmt::format("{}{}\n", definitions, change), 9, parts, options);
}

void expect_definition_refused(std::string_view definition, std::initializer_list<std::string_view> parts,
                               const RecordingOptions& options = {}) {
    expect_refusal(fmt::format("$timescale 1 us $end $var wire 1 l left $end $var wire 1 r right $end {} "
                               "$enddefinitions $end #0 0l ",
                               definition),
                   1, parts, options);
}

} // namespace

TEST(VcdRefusal, AFileThatEndsAmongTheDefinitions) {
    expect_refusal("$", 1, {"ends inside"});
    expect_refusal("$timescale 1 us", 1, {"ends inside $timescale", "cut off"});
    expect_refusal("$timescale 1 us $end\n$scope module", 2, {"ends inside $scope"});
    expect_refusal("$timescale 1 us $end\n$var wire 1 l", 2, {"ends inside $var"});
    expect_refusal("$timescale 1 us $end\n$comment no end", 2, {"ends inside \"$comment\""});
    expect_refusal("$timescale 1 us $end\n$var wire 1 l left $end\n", 2, {"ends inside the definitions"});
    expect_refusal("$timescale 1 us $end\n$var wire 1 l left $end\n$enddefinitions\n", 3,
                   {"ends inside \"$enddefinitions\""});
}

TEST(VcdRefusal, AFileThatEndsAmongTheValues) {
    expect_change_refused("1", {"without the code", "cut off"});
    expect_change_refused("b10", {"ends inside a value", "cut off"});
    expect_change_refused("r1.5", {"ends inside a value"});
    expect_change_refused("#", {"\"#\" is no time", "cut off"});
    expect_change_refused("$dumpall 0l", {"ends inside $dumpall"});
    expect_change_refused("$comment 0l", {"ends inside $comment"});
    expect_refusal(
        "$timescale 1 us $end $var wire 1 l left $end $var wire 1 r right $end $enddefinitions $end", 1,
        {"no time stamp"});
}

TEST(VcdRefusal, ValuesWithoutAnyTime) {
    expect_refusal(
        "$timescale 1 us $end $var wire 1 l left $end $var wire 1 r right $end\n$enddefinitions $end\n"
        "$dumpvars\n0l\n1r\n$end\n",
        6, {"no time stamp"});
}

TEST(VcdRefusal, ValuesAheadOfTheEndOfDefinitions) {
    expect_refusal("$timescale 1 us $end\n$var wire 1 l left $end\n#0\n0l\n", 3,
                   {"\"#0\" where a definition is expected", "$enddefinitions"});
}

TEST(VcdRefusal, ASignalNotDeclared) {
    expect_change_refused("1q", {"code \"q\", which no $var declares"});
    expect_change_refused("b1 qq", {"code \"qq\", which no $var declares"});
    expect_change_refused("r1 q", {"code \"q\""});
    expect_change_refused("1\xE4", {"which no $var declares"});
}

TEST(VcdRefusal, ValuesThatAreNone) {
    const RecordingOptions bit{.left = "bus[0]"};
    const RecordingOptions volts{.left = "volts"};
    expect_change_refused("2l", {"\"2l\" is no value change"});
    expect_change_refused("left", {"code \"eft\", which no $var declares"});
    expect_change_refused("b12 v", {"\"12\" is no value for a signal of 4 bits"}, bit);
    expect_change_refused("b v", {"\"\" is no value for a signal of 4 bits"}, bit);
    expect_change_refused("b10101 v", {"\"10101\" is no value for a signal of 4 bits"}, bit);
    expect_change_refused("b1 a", {"\"1\" is no value for a real signal"}, volts);
    expect_change_refused("1a", {"\"1\" is no value for a real signal"}, volts);
    expect_change_refused("r1.0 v", {"real number \"1.0\" for a signal of bits"}, bit);
}

TEST(VcdRefusal, VoltsThatAreNone) {
    const RecordingOptions volts{.left = "volts"};
    expect_change_refused("rnan a", {"\"nan\"; it must be a finite number"}, volts);
    expect_change_refused("r-inf a", {"\"-inf\"; it must be a finite number"}, volts);
    expect_change_refused("r1e400 a", {"out of range"}, volts);
    expect_change_refused("r1,5 a", {"decimal point instead of the comma"}, volts);
    expect_change_refused("r a", {"is empty"}, volts);
}

TEST(VcdRefusal, TimesThatAreNone) {
    expect_change_refused("#x", {"\"#x\" is no time"});
    expect_change_refused("#1.5", {"\"#1.5\" is no time"});
    expect_change_refused("#1x", {"\"#1x\" is no time"});
    expect_change_refused("#-5", {"\"#-5\" is a negative time"});
    expect_change_refused("#315576000000001", {"ten years", "timescale"});
    expect_change_refused("#99999999999999999999999999", {"ten years"});
    expect_change_refused("#10 1l #9 0l", {"goes back from #10 to \"#9\""});
    expect_change_refused("#10 1l #20 0l #9 0l", {"goes back from #20 to \"#9\""});
}

TEST(VcdRefusal, TimesOutOfRangeBehindPlainOnes) {
    expect_change_refused("#10 1l #20 0l #315576000000001 1l", {"ten years"});
    expect_change_refused("#10 1l #20 0l #99999999999999999999 1l", {"ten years"});
    expect_change_refused("#10 1l #20 0l #30.5 1l", {"\"#30.5\" is no time"});
    expect_change_refused("#10 1l #20 0l 1q", {"which no $var declares"});
    expect_change_refused("#10 1l #20 0l 1a", {"no value for a real signal"}, {.left = "volts"});
    expect_change_refused("#10 1l #20 0l 1", {"without the code"});
}

TEST(VcdRefusal, CommandsOutOfPlace) {
    expect_change_refused("$var wire 1 q late $end", {"\"$var\" has no place behind $enddefinitions"});
    expect_change_refused("$dumpports 0l $end", {"\"$dumpports\" has no place"});
}

TEST(VcdRefusal, DefinitionsThatAreWrong) {
    expect_definition_refused("$var wire 1 $end", {"needs a type, a size, a code and a name"});
    expect_definition_refused("$var wire one q x $end", {"\"one\" is no size"});
    expect_definition_refused("$var wire -1 q x $end", {"\"-1\" is no size"});
    expect_definition_refused("$var wire 99999999999 q x $end", {"is no size"});
    expect_definition_refused("$var wire 8 l twice $end", {"the code of \"left\" is declared twice"});
    expect_definition_refused("$var real 1 l twice $end", {"the code of \"left\" is declared twice"});
    expect_definition_refused("$var wire 1 q x $var wire 1 a b $var wire 1 c d $var wire 1 e f",
                              {"$var has no $end"});
    expect_definition_refused("$timescale 1 ns $end", {"second $timescale"});
    expect_definition_refused("stray", {"\"stray\" where a definition is expected"});
}

TEST(VcdRefusal, ATimescaleThatIsNone) {
    for (const std::string_view text : {"2 us", "1 min", "1", "us", "1000 us", "1.5 us", "01 us", "1 US"}) {
        std::string joined(text);
        std::erase(joined, ' ');
        expect_refusal(fmt::format("$timescale {} $end", text), 1,
                       {fmt::format("the timescale is \"{}\"", joined), "1, 10 or 100"});
    }
    expect_refusal("$timescale $end", 1, {"the timescale is \"\""});
    expect_refusal("$var wire 1 l left $end $var wire 1 r right $end\n$enddefinitions $end\n#0 0l\n", 2,
                   {"no $timescale"});
}

TEST(VcdRefusal, ASideNotFound) {
    expect_refusal(
        "$timescale 1 us $end $scope module m $end $var wire 1 a red $end $var wire 8 b bus [7:0] $end\n"
        "$enddefinitions $end #0 0a\n",
        2, {"no signal \"left\"", "--left NAME", "the signals are: m.red, m.bus[7:0]"});
    expect_definition_refused("", {"no signal \"amber\"", "the signals are: left, right"}, {.left = "amber"});
}

TEST(VcdRefusal, AVectorWithoutABit) {
    for (const std::string_view name : {"bus[4]", "bus[-1]", "bus[x]", "bus[]", "bus[0", "volts[0]"}) {
        const TempFile file(fmt::format("{}", definitions));
        const std::string message = refusal_of_file(file.path(), {.left = std::string(name)});
        EXPECT_NE(message.find(fmt::format("no signal \"{}\"", name)), message.npos) << message;
        EXPECT_NE(message.find("bus[3:0]"), message.npos) << message;
    }
    const RecordingOptions bus{.left = "bus"};
    expect_refusal(definitions, 6, {"\"bus\" has 4 bits, bus[3:0]", "name one of them, as in bus[0]"}, bus);
}

TEST(VcdRefusal, WhatCannotBeATapIsNotOffered) {
    const std::string text = "$timescale 1 us $end $var string 1 s state $end $var wire 1 r right $end\n"
                             "$enddefinitions $end #0 0r\n";
    expect_refusal(text, 2, {"\"state\" is a text"}, {.left = "state"});
    const TempFile file(text);
    const std::string message = refusal_of_file(file.path());
    EXPECT_NE(message.find("the signals are: right"), message.npos) << message;
    EXPECT_EQ(message.find("state"), message.npos) << message;
}

TEST(VcdRefusal, ANameThatFitsSeveralSignals) {
    expect_refusal("$timescale 1 us $end $scope module a $end $var wire 1 1 left $end $upscope $end "
                   "$scope module b $end $var wire 1 2 left $end $var wire 1 3 right $end $upscope $end\n"
                   "$enddefinitions $end #0 01\n",
                   2, {"\"left\" may be any of: a.left, b.left; ", "in full"});
    expect_definition_refused("$var wire 1 x left $end", {"2 signals are called \"left\"", "rename"});
}

TEST(VcdRefusal, OneSignalForBothSides) {
    expect_definition_refused("", {"both read from one signal"}, {.left = "right"});
    expect_definition_refused("$var wire 1 l again $end", {"both read from one signal"}, {.right = "again"});
}

TEST(VcdRefusal, WhatIsNoText) {
    using namespace std::string_literals;
    expect_refusal(std::string(definitions) + "\0\0"s, 9, {"no text", "cut off"});
    std::string text(definitions);
    for (int t = 1; t < 100'000; ++t)
        text += fmt::format("#{}\n{}l\n", t, t % 2);
    expect_refusal(text + "\0\0\0"s, 200'007, {"no text", "cut off"});
    expect_refusal(text + "1q\n"s, 200'007, {"which no $var declares"});
}

TEST(VcdRefusal, AWordWithoutEnd) {
    const TempFile file(fmt::format("{}b{} v\n", definitions, std::string(2'000'000, '0')));
    const std::string message = refusal_of_file(file.path());
    EXPECT_NE(message.find("longer than 1 MiB"), message.npos) << message;
}

TEST(VcdRefusal, DefinitionsWithoutEnd) {
    std::string scopes = "$timescale 1 us $end\n";
    for (int i = 0; i < 5'000; ++i)
        scopes += "$scope module m $end\n";
    expect_refusal(scopes, 2'050, {"scopes within scopes", "$upscope"});
    std::string variables = "$timescale 1 us $end\n";
    for (int i = 0; i < 500'000; ++i)
        variables += fmt::format("$var wire 1 v{} signal{} $end\n", i, i);
    const TempFile file(variables);
    EXPECT_NE(refusal_of_file(file.path()).find("more signals than can be kept"), std::string::npos);
}
