#include "support.hpp"

using namespace capture_test;

namespace {

// Refused in its second row, the third line, after a good one.
void expect_row_refused(std::string_view row, std::initializer_list<std::string_view> parts) {
    expect_refusal(fmt::format("time_us,left,right\n0,0,0\n{}\n", row), 3, parts);
}

void expect_volts_row_refused(std::string_view row, std::initializer_list<std::string_view> parts) {
    expect_refusal(fmt::format("time_s,left_v,right_v\n0,0,0\n{}\n", row), 3, parts);
}

} // namespace

TEST(CsvRefusal, NoSuchFile) {
    const std::string path = testing::TempDir() + "winkhold-no-such-file.csv";
    EXPECT_EQ(refusal_of_file(path), path + ": no such file; check the name");
}

TEST(CsvRefusal, AFileThatCannotBeOpened) {
    const TempFile file("time_us,left,right\n0,0,0\n");
    EXPECT_EQ(refusal_of_file(file.path() + "/inside"),
              file.path() + "/inside: can't be opened: Not a directory");
}

TEST(CsvRefusal, ADirectory) {
    EXPECT_EQ(refusal_of_file(testing::TempDir()),
              testing::TempDir() + ": is a directory; name a recording in it");
}

TEST(CsvRefusal, NothingInTheFile) {
    expect_refusal("", 0, {"empty"});
    expect_refusal("\xEF\xBB\xBF", 0, {"empty"});
    expect_refusal("\n \n", 0, {"empty"});
}

TEST(CsvRefusal, NoRows) {
    expect_refusal("time_us,left,right\n", 2, {"no rows"});
    expect_refusal("time_us,left,right", 2, {"no rows"});
    expect_refusal("time_us,left,right\n\n\n", 4, {"no rows"});
}

TEST(CsvRefusal, NoTimeColumn) {
    expect_refusal(
        "clock,left,right\n0,0,0\n", 1,
        {"no time column", "time_us, time_ms, time_s or Time [s]", "--time", "clock, left, right"});
    expect_refusal("0,0,0\n1,1,0\n", 1, {"no time column", "the line that names the columns"});
}

TEST(CsvRefusal, AUnitOfTimeThatIsNotKnown) {
    expect_refusal("time,left,right\n0,0,0\n250,1,0\n", 1, {"\"time\" names no unit", "--time-unit"});
    expect_refusal("Time [div],left,right\n0,0,0\n", 1, {"\"div\"", "--time-unit"});
    expect_refusal("Time (h),left,right\n0,0,0\n", 1, {"\"h\"", "--time-unit"});
    expect_refusal("time,left,right\n0,0,0\n", 1, {"--time-unit \"days\"", "s, ms, us, ns"},
                   {.time_unit = "days"});
    expect_refusal("time,left,right\n0,0,0\n", 1, {"no column \"clock\" (--time)"}, {.time = "clock"});
}

TEST(CsvRefusal, NothingButAPreamble) {
    expect_refusal("# Sample rate: 1 kHz\n#\n", 1, {"nothing but comments"});
    expect_refusal("; Samplerate: 1 kHz\nD0,D1\n", 2, {"no rows"}, {.left = "D0", .right = "D1"});
    expect_refusal("{\"left\": 1}\n", 1, {"quote inside a field"});
}

TEST(CsvRefusal, TheHeaderAgain) {
    expect_refusal("Time [s],left,right\n0,0,0\n1,1,0\nTime [s],left,right\n0,0,0\n", 4,
                   {"stand here again", "Split"});
}

TEST(CsvRefusal, TwoTimeColumns) {
    expect_refusal("time_us,left,right,time_s\n0,0,0,0\n", 1, {"both time_us and time_s", "keep one"});
}

TEST(CsvRefusal, AColumnTwice) {
    expect_refusal("time_us,left,right,left\n0,0,0,0\n", 1, {"\"left\" is there twice", "rename"});
    expect_refusal("time_us,time_us,left,right\n0,0,0,0\n", 1, {"\"time_us\" is there twice"});
}

TEST(CsvRefusal, ASideNotFound) {
    expect_refusal("time_us,red,green\n0,0,0\n", 1,
                   {"no column \"left\"", "--left NAME", "the columns are: red, green"});
    expect_refusal("time_us,left,green\n0,0,0\n", 1,
                   {"no column \"right\"", "--right NAME", "the columns are: left, green"});
    expect_refusal("time_us\n0\n", 1, {"no column \"left\"", "the columns are: none"});
}

TEST(CsvRefusal, AnUnknownColumnAskedFor) {
    const std::string text = "time_us,left,right,blue\n0,0,0,0\n";
    expect_refusal(text, 1, {"no column \"amber\"", "the columns are: left, right, blue"}, {.left = "amber"});
    expect_refusal(text, 1, {"no column \"\""}, {.right = ""});
    expect_refusal(text, 1, {"no column \"time_us\""}, {.right = "time_us"});
}

TEST(CsvRefusal, OneColumnForBothSides) {
    const std::string text = "time_us,left,right\n0,0,0\n";
    expect_refusal(text, 1, {"both read from one column"}, {.left = "right"});
    expect_refusal(text, 1, {"both read from one column"}, {.left = "left", .right = "left"});
}

TEST(CsvRefusal, NeitherSide) {
    expect_refusal("time_us,left,right\n0,0,0\n", 0, {"both \"none\"", "--left or --right"},
                   {.left = "none", .right = "none"});
}

TEST(CsvRefusal, ThresholdsTheWrongWayRound) {
    const std::string text = "time_us,left,right\n0,0,0\n";
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double infinity = std::numeric_limits<double>::infinity();
    expect_refusal(text, 0, {"on above 3 V, off below 3.5 V"}, {.on_above_v = 3});
    expect_refusal(text, 0, {"thresholds"}, {.on_above_v = nan});
    expect_refusal(text, 0, {"thresholds"}, {.off_below_v = nan});
    expect_refusal(text, 0, {"thresholds"}, {.on_above_v = infinity});
}

TEST(CsvRefusal, ThresholdsAreRefusedWhenOpening) {
    const TempFile file("time_us,left,right\n0,0,0\n");
    EXPECT_THROW(winkhold::host::open_recording(file.path(), {.on_above_v = 3}), winkhold::host::InputError);
}

TEST(CsvRefusal, TooFewFields) {
    expect_row_refused("5,1", {"2 fields where the header names 3", "cut off"});
    expect_row_refused("5", {"1 fields where the header names 3", "cut off"});
}

TEST(CsvRefusal, TooManyFields) {
    expect_row_refused("5,1,0,1", {"4 fields where the header names 3"});
}

TEST(CsvRefusal, AnEmptyField) {
    expect_row_refused(",1,0", {"\"time_us\" is empty"});
    expect_row_refused("5,,0", {"\"left\" is \"\", neither 0 nor 1"});
    expect_volts_row_refused("5,,0", {"\"left_v\" is empty"});
}

TEST(CsvRefusal, ALevelThatIsNone) {
    for (const std::string_view level : {"2", "-1", "01", "-1.0", "high", "12.4"}) {
        expect_row_refused(fmt::format("5,0,{}", level),
                           {fmt::format("\"right\" is \"{}\", neither 0 nor 1", level), "ends in _v"});
    }
}

TEST(CsvRefusal, ATimeThatIsNone) {
    for (const std::string_view time :
         {"x", "5x", "5 5", "0x10", "1e", "1e+", "1e5.5", "--5", ".", "e5", "1.2.3"}) {
        expect_row_refused(fmt::format("{},1,0", time),
                           {fmt::format("\"time_us\" is \"{}\", which is no number", time)});
    }
}

TEST(CsvRefusal, TimeGoingBack) {
    expect_refusal("time_us,left,right\n0,0,0\n20,1,0\n19,0,0\n", 4,
                   {"goes back from 20 us to 19 us", "sort"});
    expect_refusal("time_ms,left,right\n20,0,0\n 19 ,0,0\n", 3, {"goes back from 20000 us to 19000 us"});
    expect_row_refused("-5,1,0", {"goes back from 0 us to -5 us"});
}

TEST(CsvRefusal, NumbersThatAreNotFinite) {
    for (const std::string_view number : {"nan", "NaN", "-nan", "inf", "-INF", "Infinity"}) {
        const std::string part = fmt::format("is \"{}\"; it must be a finite number", number);
        expect_row_refused(fmt::format("{},1,0", number), {part});
        expect_volts_row_refused(fmt::format("1,{},0", number), {part});
    }
}

TEST(CsvRefusal, NumbersOutOfRange) {
    expect_row_refused("315576000000001,1,0", {"\"time_us\" is \"315576000000001\"", "ten years"});
    expect_row_refused("99999999999999999999999999,1,0", {"ten years"});
    expect_row_refused("9999999999999999999,1,0", {"ten years"});
    expect_row_refused("1e400,1,0", {"ten years"});
    expect_row_refused("1e99999999999999999999,1,0", {"ten years"});
    expect_volts_row_refused("315576001,0,0", {"ten years"});
    expect_volts_row_refused("1,1e400,0", {"\"left_v\" is \"1e400\"", "out of range"});
}

TEST(CsvRefusal, OtherSeparatorsAndDecimalCommas) {
    expect_refusal("time_s,left,right\n0,0,0\n0,0125,1,0\n", 3, {"4 fields", "no decimal comma"});
    expect_refusal("time_s;left;right\n0;0;0\n0,0125;1;0\n1.5;0;0\n", 4, {"1.5", "no number"});
    expect_refusal("time_us;left;right\n0;0;0\n5,1,0\n", 3, {"1 fields", "a semicolon between columns"});
    expect_refusal("time_s,left,right\n0,0,0\n\"0,0125\",1,0\n", 3, {"decimal point instead of the comma"});
    expect_row_refused("5;1;0", {"a comma between columns"});
}

TEST(CsvRefusal, DecimalCommasThatCannotBe) {
    const RecordingOptions with_commas{.decimal_comma = true};
    expect_refusal("time_s,left,right\n0,0,0\n", 1, {"commas stand between the columns", "semicolons"},
                   with_commas);
    expect_refusal("time_s;left;right\n0;0;0\n0.5;1;0\n", 3, {"0.5", "leave --decimal-comma out"},
                   with_commas);
    expect_refusal("time_s;left;right\n0;0;0\n0,5,1;1;0\n", 3, {"0,5,1", "no number"}, with_commas);
}

TEST(CsvRefusal, QuotesThatDoNotMatch) {
    expect_row_refused("5,\"1,0", {"a quote opened here is never closed"});
    expect_row_refused("5,1\",0", {"a quote inside a field"});
    expect_row_refused("5,\"1\"x,0", {"behind a closing quote"});
    expect_refusal("time_us,\"left,right\n0,0,0\n", 1, {"a quote opened here is never closed"});
}

TEST(CsvRefusal, CarriageReturnsAlone) {
    expect_refusal("time_us,left,right\r0,0,0\r", 1, {"carriage return", "line ends"});
    expect_row_refused("5,1\r,0", {"carriage return"});
}

TEST(CsvRefusal, WhatIsNoText) {
    using namespace std::string_literals;
    expect_refusal("time_us,left,right\n0,0,0\n\0\0\0\0"s, 3, {"no text", "cut off"});
    expect_refusal("\xFF\xFEt\0i\0m\0e\0"s, 0, {"no text", "UTF-8"});
    expect_refusal("\x7F"
                   "ELF\x02\x01\x01"s,
                   0, {"no text"});
    expect_refusal("\xC3\x28\x90\x91\xF5"s, 1, {"no time column"});
}

TEST(CsvRefusal, RubbishFarIntoTheFile) {
    std::string text = "time_us,left,right,note\n";
    for (int row = 0; row < 100'000; ++row)
        text += fmt::format("{},{},0,n\n", row, row % 2);
    using namespace std::string_literals;
    expect_refusal(text + "\0\0\0\0\0\0"s, 100'002, {"no text", "cut off"});
    expect_refusal(text + "200000,1,0,a\0b\n"s, 100'002, {"no text"});
    expect_refusal(text + "200000,1,0,\"a\0b\"\n"s, 100'002, {"no text"});
    expect_refusal(text + "200000,2,0,\n"s, 100'002, {"neither 0 nor 1"});
}

TEST(CsvRefusal, ALineWithoutEnd) {
    expect_refusal("time_us,left,right\n0,0,0\n5,0," + std::string(2'000'000, '0'), 3, {"longer than 1 MiB"});
    expect_refusal(std::string(2'000'000, 'x'), 0, {"longer than 1 MiB"});
    std::string open_quote = "time_us,left,right\n0,0,0\n5,0,\"";
    for (int row = 0; row < 300'000; ++row)
        open_quote += "0,0,0\n";
    expect_refusal(open_quote, 3, {"longer than 1 MiB", "quote"});
}

TEST(CsvRefusal, LongRubbishIsShownShort) {
    const TempFile file("time_us,left,right\n0," + std::string(10'000, '7') + ",0\n");
    const std::string message = refusal_of_file(file.path());
    EXPECT_LT(message.size(), file.path().size() + 200) << message;
    EXPECT_NE(message.find("777...\""), message.npos) << message;
}

TEST(CsvRefusal, NamesAreNotCutInsideACharacter) {
    std::string name = "x";
    for (int i = 0; i < 30; ++i)
        name += "ü";
    const std::string shown = "\"x" + name.substr(1, 38) + "...\"";
    expect_refusal("time_us,left,right," + name + "\n" + "0,0,0," + name + "\n", 1, {shown},
                   {.left = name + "?"});
    expect_refusal("time_us,left,right\n0,a" + name + ",0\n", 2, {"\"ax" + name.substr(1, 38) + "...\""});
}

TEST(CsvRefusal, MoreColumnsThanCanBeKept) {
    const std::string most = "time_us,left,right" + std::string(9'997, ',');
    EXPECT_EQ(read(most + "\n5,1,0" + std::string(9'997, ',') + "\n").edges, edges({{5, 1}}));
    expect_refusal(most + ",\n", 1, {"10001 columns", "10000 at most"});
}

TEST(CsvRefusal, ManyColumnsAreListedShort) {
    std::string header = "time_us";
    for (int i = 0; i < 1'000; ++i)
        header += fmt::format(",column{}", i);
    expect_refusal(header + "\n", 1, {"column0, column1, ", "column23 and 976 more"});
}
