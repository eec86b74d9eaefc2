#include "support.hpp"

using namespace capture_test;

TEST(CsvRead, EachRowHoldsFromItsTimeOn) {
    const Trace trace = read("time_us,left,right\n0,0,0\n250,1,0\n300,1,0\n400,0,1\n500,0,1\n");
    EXPECT_EQ(trace.edges, edges({{0, 0}, {250, 1}, {400, 2}}));
    EXPECT_EQ(trace.end_us, 500);
}

TEST(CsvRead, TheFirstRowIsAnEdgeWhateverItSays) {
    EXPECT_EQ(read("time_us,left,right\n70,0,0\n90,0,0\n").edges, edges({{70, 0}}));
    EXPECT_EQ(read("time_us,left,right\n70,1,1\n").edges, edges({{70, 3}}));
}

TEST(CsvRead, ColumnsMayStandInAnyOrderAmongOthers) {
    const Trace trace = read("note,right,tail,time_us,supply,left,brake,extra\n"
                             "start,0,0,0,1,0,0,\n"
                             "\"a, b\",1,0,10,1,0,0,x\n"
                             ",0,1,20,1,1,1,5.5\n");
    EXPECT_EQ(trace.edges, edges({{0, 16}, {10, 18}, {20, 29}}));
}

TEST(CsvRead, OptionsNameTheSides) {
    const std::string text = "time_us,red,green\n0,0,0\n5,1,0\n9,1,1\n";
    EXPECT_EQ(read(text, {.left = "red", .right = "green"}).edges, edges({{0, 0}, {5, 1}, {9, 3}}));
    EXPECT_EQ(read(text, {.left = "green", .right = "red"}).edges, edges({{0, 0}, {5, 2}, {9, 3}}));
    EXPECT_EQ(read(text, {.left = "none", .right = "green"}).edges, edges({{0, 0}, {9, 2}}));
    EXPECT_EQ(read(text, {.left = "red", .right = "none"}).edges, edges({{0, 0}, {5, 1}}));
}

TEST(CsvRead, AColumnChosenForASideIsNoOtherTap) {
    const std::string text = "time_us,left,right,brake\n0,0,0,0\n5,0,0,1\n";
    EXPECT_EQ(read(text).edges, edges({{0, 0}, {5, 4}}));
    EXPECT_EQ(read(text, {.left = "brake"}).edges, edges({{0, 0}, {5, 1}}));
    EXPECT_EQ(read(text, {.left = "right", .right = "brake"}).edges, edges({{0, 0}, {5, 2}}));
}

TEST(CsvRead, VoltsHaveHysteresis) {
    const Trace trace = read("time_us,left_v,right_v\n"
                             "0,4.5,0\n"    // between at first: low
                             "10,5.0,0\n"   // not above yet
                             "20,5.01,0\n"  // high
                             "30,3.6,12\n"  // stays
                             "40,3.5,4\n"   // not below yet
                             "50,3.49,4\n"  // low
                             "60,4.9,-1\n"  // stays, and right goes low
                             "70,1.2e1,0\n" // high
                             "80,0e999,0\n" // low
    );
    EXPECT_EQ(trace.edges, edges({{0, 0}, {20, 1}, {30, 3}, {50, 2}, {60, 0}, {70, 1}, {80, 0}}));
}

TEST(CsvRead, ThresholdsAreOptions) {
    const std::string text = "time_us,left_v,right\n0,0,0\n1,2.2,0\n2,1.9,0\n3,1.4,0\n";
    EXPECT_EQ(read(text).edges, edges({{0, 0}}));
    EXPECT_EQ(read(text, {.on_above_v = 2, .off_below_v = 1.5}).edges, edges({{0, 0}, {1, 1}, {3, 0}}));
    EXPECT_EQ(read(text, {.on_above_v = 2, .off_below_v = 2}).edges, edges({{0, 0}, {1, 1}, {2, 0}}));
}

TEST(CsvRead, EveryTapMayBeInVolts) {
    const Trace trace =
        read("time_ms,left_v,right_v,brake_v,tail_v,supply_v\n0,0,0,0,0,12.4\n1,13,13,13,13,13\n");
    EXPECT_EQ(trace.edges, edges({{0, 16}, {1000, 31}}));
}

TEST(CsvRead, LevelsComeAheadOfVoltsWithoutOptions) {
    const std::string text = "time_us,left_v,left,right\n0,12,0,0\n1,0,1,0\n";
    EXPECT_EQ(read(text).edges, edges({{0, 0}, {1, 1}}));
    EXPECT_EQ(read(text, {.left = "left_v"}).edges, edges({{0, 1}, {1, 0}}));
}

TEST(CsvRead, ActiveLowInvertsTheSidesOnly) {
    const RecordingOptions low{.active_high = false};
    EXPECT_EQ(read("time_us,left,right,supply,brake\n0,1,1,1,0\n5,0,1,1,0\n9,0,0,0,1\n", low).edges,
              edges({{0, 16}, {5, 17}, {9, 7}}));
    EXPECT_EQ(read("time_us,left_v,right_v\n0,4,12\n5,0,12\n9,12,12\n", low).edges,
              edges({{0, 0}, {5, 1}, {9, 0}}));
}

TEST(CsvRead, ActiveLowLeavesAnUnrecordedSideLow) {
    EXPECT_EQ(read("time_us,left\n0,1\n5,0\n", {.right = "none", .active_high = false}).edges,
              edges({{0, 0}, {5, 1}}));
}

TEST(CsvRead, MoreLevelColumnsThanFitIntoOneStep) {
    EXPECT_EQ(
        read("supply,tail,brake,right,left,time_us\n0,0,0,0,0,0\n1,0,0,0,0,1\n0,1,0,0,0,2\n0,0,1,0,0,3\n"
             "0,0,0,1,0,4\n0,0,0,0,1,5\n1,1,1,1,1,6\n")
            .edges,
        edges({{0, 0}, {1, 16}, {2, 8}, {3, 4}, {4, 2}, {5, 1}, {6, 31}}));
}

TEST(CsvRead, TimesComeInThreeUnits) {
    const auto end_of = [](std::string_view unit, std::string_view time) {
        return read(fmt::format("{},left,right\n0,0,0\n{},1,0\n", unit, time)).end_us;
    };
    EXPECT_EQ(end_of("time_us", "12500"), 12'500);
    EXPECT_EQ(end_of("time_ms", "12.5"), 12'500);
    EXPECT_EQ(end_of("time_s", "0.0125"), 12'500);
    EXPECT_EQ(end_of("time_s", "1.25e-2"), 12'500);
    EXPECT_EQ(end_of("time_s", "125E-4"), 12'500);
    EXPECT_EQ(end_of("time_s", "+.0125"), 12'500);
    EXPECT_EQ(end_of("time_ms", "1.25e+1"), 12'500);
    EXPECT_EQ(end_of("time_s", "7"), 7'000'000);
    EXPECT_EQ(end_of("time_s", "7."), 7'000'000);
    EXPECT_EQ(end_of("time_s", "-0"), 0);
    EXPECT_EQ(end_of("time_us", "0000000000000000000000012"), 12);
    EXPECT_EQ(end_of("time_s", "0.012500000000000000000000000"), 12'500);
    EXPECT_EQ(end_of("time_us", "0e99999999999999999999"), 0);
    EXPECT_EQ(end_of("time_us", "5e-99999999999999999999"), 0);
}

TEST(CsvRead, TimesAreRoundedToTheNearestMicrosecond) {
    const auto end_of = [](std::string_view time) {
        return read(fmt::format("time_ms,left,right\n0,0,0\n{},1,0\n", time)).end_us;
    };
    EXPECT_EQ(end_of("1.2344"), 1234);
    EXPECT_EQ(end_of("1.2345"), 1235);
    EXPECT_EQ(end_of("1.23449999999999999999999"), 1234);
    EXPECT_EQ(end_of("0.0004"), 0);
    EXPECT_EQ(end_of("12345678901.2346"), 12'345'678'901'235);
}

TEST(CsvRead, TheLatestTimeIsTenYears) {
    EXPECT_EQ(read("time_us,left,right\n315576000000000,1,0\n").end_us, winkhold::host::latest_us);
    EXPECT_EQ(read("time_s,left,right\n0,0,0\n315576000,1,0\n").end_us, winkhold::host::latest_us);
}

TEST(CsvRead, RowsOfTheSameTimeAreAllTaken) {
    EXPECT_EQ(read("time_us,left,right\n5,0,0\n5,1,0\n5,0,0\n").edges, edges({{5, 0}, {5, 1}, {5, 0}}));
}

TEST(CsvRead, QuotesSpacesAndLineEndsMakeNoDifference) {
    const auto expected = edges({{0, 0}, {5, 1}, {9, 3}});
    EXPECT_EQ(read("\"time_us\", left , \"right\"\n 0 ,0, 0\n\"5\",\"1\",\"0\"\n 9 , \" 1 \" ,1\t\n").edges,
              expected);
    EXPECT_EQ(read("time_us,left,right\r\n0,0,0\r\n5,1,0\r\n9,1,1\r\n").edges, expected);
    EXPECT_EQ(read("time_us,left,right\n0,0,0\r\n5,1,0\n9,1,1\r\n").edges, expected);
    EXPECT_EQ(read("time_us,left,right\r\n0,0,0\n5,1,0\r\n9,1,1").edges, expected);
    EXPECT_EQ(read("time_us,left,right\n0,0,0\n5,1,0\n9,1,1").edges, expected);
    EXPECT_EQ(read("time_us,left,right\n0,0,0\n5,1,0\n9,1,1\n\n \n\r\n").edges, expected);
    EXPECT_EQ(read("\xEF\xBB\xBFtime_us,left,right\n0,0,0\n5,1,0\n9,1,1\n").edges, expected);
}

TEST(CsvRead, AQuotedFieldMayHoldLinesCommasAndQuotes) {
    const Trace trace = read("time_us,\"the \"\"left\"\" one\",right,note\n"
                             "0,0,0,\"two\nlines, and a \"\"quote\"\"\"\n"
                             "4,1,0,plain\n",
                             {.left = "the \"left\" one"});
    EXPECT_EQ(trace.edges, edges({{0, 0}, {4, 1}}));
}

TEST(CsvRead, ColumnsMayLackAName) {
    EXPECT_EQ(read("time_us,,left,right,,\n0,x,0,0,,\n4,,1,0,,y\n").edges, edges({{0, 0}, {4, 1}}));
}

TEST(CsvRead, NamesMayBeInUtf8) {
    EXPECT_EQ(read("time_us,blinker_grün,right\n0,1,0\n", {.left = "blinker_grün"}).edges, edges({{0, 1}}));
}

TEST(CsvRead, TheSampleRecordingsSayWhatTheyShow) {
    const auto samples = std::filesystem::path(WINKHOLD_DATA) / "recordings";
    const Trace levels = read_file((samples / "left_flash.csv").string());
    const Trace volts = read_file((samples / "left_flash_volts.csv").string());
    const Trace dump = read_file((samples / "left_flash.vcd").string());
    ASSERT_EQ(levels.edges.size(), 9u);
    EXPECT_EQ(levels.edges.front(), (Edge{0, lines(16)}));
    EXPECT_EQ(levels.edges.back(), (Edge{2'800'000, lines(16)}));
    EXPECT_EQ(levels.end_us, 4'000'000);
    EXPECT_EQ(dump.edges, levels.edges);
    EXPECT_EQ(dump.end_us, levels.end_us);
    EXPECT_EQ(volts.end_us, levels.end_us);
    ASSERT_EQ(volts.edges.size(), levels.edges.size());
    for (std::size_t i = 0; i < volts.edges.size(); ++i) {
        EXPECT_EQ(volts.edges[i].lines, levels.edges[i].lines) << i;
        EXPECT_NEAR(static_cast<double>(volts.edges[i].t_us), static_cast<double>(levels.edges[i].t_us),
                    40'000)
            << i;
    }
}
