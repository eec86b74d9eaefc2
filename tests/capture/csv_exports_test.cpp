/// CSV as instruments export it. Each layout is described in data/README.md; the times are of our own making.
#include "support.hpp"

using namespace capture_test;

namespace {

const auto flash = edges({{0, 0}, {1'000, 1}, {3'000, 2}});

RecordingOptions sides(std::string left, std::string right) {
    return {.left = std::move(left), .right = std::move(right)};
}

std::string replaced(std::string text, std::string_view what, std::string_view by) {
    for (auto at = text.find(what); at != text.npos; at = text.find(what, at + by.size()))
        text.replace(at, what.size(), by);
    return text;
}

std::vector<std::string> names_of_caveats(std::string_view text, const RecordingOptions& options) {
    std::vector<std::string> names;
    for (const auto& caveat : caveats_of(text, options))
        names.emplace_back(caveat.name);
    return names;
}

struct Layout {
    const char* name;
    std::string text;
    std::string left;
    std::string right;
};

void PrintTo(const Layout& layout, std::ostream* out) {
    *out << layout.name;
}

const Layout layouts[] = {
    {"changes", "Time [s],Channel 0,Channel 1\n0.000000000,0,0\n0.001000000,1,0\n0.003000000,0,1\n",
     "Channel 0", "Channel 1"},
    {"changes_and_blanks", "Time[s], Channel 0, Channel 1\n0.000, 0, 0\n0.001, 1, 0\n0.003, 0, 1\n",
     "Channel 0", "Channel 1"},
    {"no_times", "; An analyser, channels D0, D1\n; Samplerate: 1 kHz\nD0,D1\n0,0\n1,0\n1,0\n0,1\n", "D0",
     "D1"},
    {"numbers_for_names", "; Samplerate: 1 kHz\n0,1\n0,0\n1,0\n1,0\n0,1\n", "0", "1"},
    {"comments_and_times",
     "#Analyser\n#Sample rate: 1000Hz\n#\nTime (s),DIO 0,DIO 1\n0,0,0\n0.001,1,0\n0.002,1,0\n0.003,0,1\n",
     "DIO 0", "DIO 1"},
    {"counted_samples",
     "X,CH1,CH2,Start,Increment,\nSequence,Volt,Volt,-1.000000e+00,1.000000e-03\n0,0.10,0.12,\n"
     "1,12.20,-0.10,\n2,12.21,0.10,\n3,0.10,12.20,\n",
     "CH1", "CH2"},
    {"step_in_the_header",
     "Time(s),CH1V,CH2V,t0 =-1.0s, tInc = 1e-03,\n-1.0e+00,0.1,-0.1,\n-9.99e-01,12.2,-0.1,\n"
     "-9.98e-01,12.2,0.1,\n-9.97e-01,0.1,12.2,\n",
     "CH1V", "CH2V"},
    {"preamble",
     "Model,Scope\nSample Interval,1e-3\nVertical Units,V,V\nLabel,CH1,CH2\n\nTIME,CH1,CH2\n"
     "-1.000000e+00,0,0.00\n-9.990000e-01,1.2e1,0.04\n-9.970000e-01,0.04,1.2e1\n",
     "CH1", "CH2"},
    {"row_of_units", "x-axis,1,2\nsecond,Volt,Volt\n-1.0E+0,0.1,0.1\n-0.999E+0,12.2,0.1\n-0.997,0.1,12.2\n",
     "1", "2"},
};

class CsvExports : public testing::TestWithParam<Layout> {
protected:
    static RecordingOptions options() { return sides(GetParam().left, GetParam().right); }
};

} // namespace

TEST_P(CsvExports, AreReadByTheNamesOfTheirColumns) {
    EXPECT_EQ(read(GetParam().text, options()).edges, flash);
}

TEST_P(CsvExports, MayComeWithAnotherLineEndAndAMarkAtTheFront) {
    EXPECT_EQ(read("\xEF\xBB\xBF" + replaced(GetParam().text, "\n", "\r\n"), options()).edges, flash);
}

TEST_P(CsvExports, MayComeWithDecimalCommasBetweenSemicolonsOrTabs) {
    const std::string commas = replaced(replaced(replaced(GetParam().text, ",", "|"), ".", ","), "; ", "# ");
    EXPECT_EQ(read(replaced(commas, "|", ";"), options()).edges, flash);
    EXPECT_EQ(read(replaced(commas, "|", "\t"), options()).edges, flash);
}

TEST_P(CsvExports, MayHaveEmptyRows) {
    const std::string& text = GetParam().text;
    const std::size_t last_row = text.rfind('\n', text.size() - 2) + 1;
    EXPECT_EQ(read(text.substr(0, last_row) + "\n,,\n" + text.substr(last_row) + "\n\n", options()).edges,
              flash);
}

TEST_P(CsvExports, SayThatTimesCountFromTheFirstRow) {
    const auto caveats = names_of_caveats(GetParam().text, options());
    const bool is_below_zero = GetParam().text.find("-1.0") != std::string::npos;
    EXPECT_EQ(std::count(caveats.begin(), caveats.end(), "time-from-first-row"), is_below_zero ? 1 : 0);
}

INSTANTIATE_TEST_SUITE_P(Layouts, CsvExports, testing::ValuesIn(layouts),
                         [](const auto& each) { return std::string(each.param.name); });

TEST(CsvExport, TheUnitOfTimeStandsInBrackets) {
    for (const auto& [unit, third, last] : {std::tuple{"Time [ms]", "1", "3"},
                                            {"Time (us)", "1000", "3000"},
                                            {"t/ms", "1.0", "3.0"},
                                            {"Zeit [µs]", "1000", "3000"},
                                            {"Time [ns]", "1000000", "3000000"},
                                            {"Time (sec)", "1e-3", "3e-3"}})
        EXPECT_EQ(
            read(fmt::format("{},a,b\n0,0,0\n{},1,0\n{},0,1\n", unit, third, last), sides("a", "b")).edges,
            flash)
            << unit;
}

TEST(CsvExport, OptionsNameTheTimeAndItsUnit) {
    const std::string text = "clock,Time [s],a,b\n0,9,0,0\n1,8,1,0\n3,7,0,1\n";
    RecordingOptions options = sides("a", "b");
    options.time = "clock";
    options.time_unit = "ms";
    EXPECT_EQ(read(text, options).edges, flash);
}

TEST(CsvExport, TimesWithoutAUnitAreSecondsIfTheyLookLikeIt) {
    const std::string text = "Time,a,b\n0.000,0,0\n0.001,1,0\n0.003,0,1\n";
    EXPECT_EQ(read(text, sides("a", "b")).edges, flash);
    EXPECT_EQ(names_of_caveats(text, sides("a", "b")), std::vector<std::string>{"seconds-assumed"});
}

TEST(CsvExport, NumbersThatAreNoLevelsAreVolts) {
    const std::string volts = "Time [ms],a,b\n0,1.0,0\n1,12.25,0\n3,0.0,12.4\n";
    EXPECT_EQ(read(volts, sides("a", "b")).edges, flash);
    EXPECT_EQ(names_of_caveats(volts, sides("a", "b")),
              (std::vector<std::string>{"volts-assumed", "volts-assumed"}));
    const std::string levels = "Time [ms],a,b\n0,0.0,0\n1,1.0,0\n3,0.0,1\n";
    EXPECT_EQ(read(levels, sides("a", "b")).edges, flash);
    EXPECT_TRUE(names_of_caveats(levels, sides("a", "b")).empty());
    expect_refusal("Time [ms],a,b\n0,0,0\n1,612,0\n", 3, {"\"a\" is \"612\""}, sides("a", "b"));
}

TEST(CsvExport, MillivoltsAreVolts) {
    EXPECT_EQ(
        read("Time [ms],a,b\n(ms),(mV),(mV)\n0,0.1,-20\n1,5001,0\n3,3499.9,12e3\n", sides("a", "b")).edges,
        flash);
}

TEST(CsvExport, AColumnIsCalledWithOrWithoutItsUnit) {
    const std::string text = "Time [ms],CH1 (V),Right [V]\n0,0,0\n1,12,0\n3,0,12\n";
    EXPECT_EQ(read(text, sides("CH1", "right")).edges, flash);
    EXPECT_EQ(read(text, sides("CH1 (V)", "Right")).edges, flash);
    expect_refusal("Time [ms],CH1 (V),CH1 (A),b\n0,0,0,0\n", 1, {"\"CH1 (V)\" or \"CH1 (A)\""},
                   sides("CH1", "b"));
    expect_refusal("Time [ms],CH1 (A),b\n0,0,0\n", 1, {"is in \"A\""}, sides("CH1", "b"));
}

TEST(CsvExport, NoSideThatEverLightsIsSaid) {
    EXPECT_EQ(names_of_caveats("time_ms,left_v,right_v\n0,0,0\n1,3.3,0\n", {}),
              std::vector<std::string>{"never-lit"});
    EXPECT_TRUE(
        names_of_caveats("time_ms,left_v,right_v\n0,0,0\n1,3.3,0\n", {.on_above_v = 2, .off_below_v = 1})
            .empty());
}

TEST(CsvExport, ATapThatNobodyAskedForRefusesNothing) {
    const auto one = edges({{0, 0}, {1'000, 1}});
    for (const std::string_view names : {"tail,tail", "note,note", "brake (%),x", "brake,x"}) {
        const std::string text = fmt::format("time_ms,left,right,{}\n0,0,0,40.5,0\n1,1,0,nan,x\n", names);
        EXPECT_EQ(read(text).edges, one) << names;
        EXPECT_EQ(caveats_of(text).size(), names == "note,note" ? 0u : 1u) << names;
    }
    EXPECT_EQ(read("time_ms,left,right,brake\n0,0,0,0\n1,1,0,1\n", {.brake = "none"}).edges, one);
    EXPECT_EQ(read("time_ms,left,right,stop\n0,0,0,0\n1,1,0,1\n", {.brake = "stop"}).edges,
              edges({{0, 0}, {1'000, 5}}));
    expect_refusal("time_ms,left,right,brake\n0,0,0,0\n1,1,0,x\n", 3, {"\"brake\" is \"x\""},
                   {.brake = "brake"});
    expect_refusal("time_ms,left,right,tail,tail\n0,0,0,0,0\n", 1, {"there twice"}, {.tail = "tail"});
    expect_refusal("time_ms,left,right\n0,0,0\n", 1, {"brake", "both read from one column"},
                   {.brake = "left"});
}

TEST(CsvExport, WhatIsRefusedIsNotOffered) {
    const TempFile file("time_ms,left,right,blue\n0,0,0,0\n");
    const std::string message = refusal_of_file(file.path(), {.left = "right"});
    EXPECT_NE(message.find("the columns left are: left, blue"), message.npos) << message;
}
