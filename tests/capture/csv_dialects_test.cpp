/// CSV as spreadsheets and other programs write it.
#include "support.hpp"

#include <rapidcheck/gtest.h>

using namespace capture_test;

namespace {

const RecordingOptions with_commas{.decimal_comma = true};

} // namespace

TEST(CsvDialects, SemicolonsMayStandBetweenColumns) {
    EXPECT_EQ(read("time_us;left;right\n0;0;0\n250;1;0\n400;0;1\n").edges,
              edges({{0, 0}, {250, 1}, {400, 2}}));
    EXPECT_EQ(read("time_us;\"a,b\";right\n0;0;0\n250;\"1\";0\n", {.left = "a,b"}).edges,
              edges({{0, 0}, {250, 1}}));
    EXPECT_EQ(read("\"time_us\";left;right;note\r\n0;0;0;a,b\r\n250;1;0;\"c;d\"\r\n").edges,
              edges({{0, 0}, {250, 1}}));
}

TEST(CsvDialects, ADecimalCommaIsReadWhereItIsAskedFor) {
    const std::string text =
        "time_ms;left_v;right_v\n0;0,5;-0,5\n0,25;12,75;1e1\n1,5e0;\"0,1\";12\n2;,5;12\n";
    EXPECT_EQ(read(text, with_commas).edges, edges({{0, 0}, {250, 3}, {1'500, 2}}));
    EXPECT_EQ(read("time_us;left;right\n0;0;0\n7;1;0\n", with_commas).edges, edges({{0, 0}, {7, 1}}));
}

TEST(CsvDialects, ManyPlainRowsReadAsRowByRow) {
    std::string plain = "time_ms;left_v;right\n";
    std::string quoted = plain;
    for (int i = 0; i < 50'000; ++i) {
        plain += fmt::format("{},{:03};{},5;{}\n", i, i % 1'000, i % 3 * 6, i / 2 % 2);
        quoted += fmt::format("\"{},{:03}\";\"{},5\";\"{}\"\n", i, i % 1'000, i % 3 * 6, i / 2 % 2);
    }
    const Trace trace = read(plain, with_commas);
    EXPECT_GT(trace.edges.size(), 40'000u);
    EXPECT_EQ(trace.edges, read(quoted, with_commas).edges);
}

// Numbers in the plain form are read in another way than quoted ones; both must say the same.
RC_GTEST_PROP(CsvDialects, PlainNumbersSayWhatQuotedOnesSay, ()) {
    const char mark = *rc::gen::element('.', ',');
    const double on_v = *rc::gen::element(5.0, 0.1, 3.5, -1.0, 12.3456789);
    const RecordingOptions options{
        .on_above_v = on_v, .off_below_v = *rc::gen::element(on_v, on_v - 0.3), .decimal_comma = mark == ','};
    const auto digits = [](int most) {
        return *rc::gen::container<std::string>(*rc::gen::inRange(0, most),
                                                rc::gen::inRange<char>('0', '9' + 1));
    };
    std::string plain = "time_s;left_v;right_v\n";
    std::string quoted = plain;
    const int rows = *rc::gen::inRange(1, 20);
    for (int row = 0; row < rows; ++row) {
        // times go up; volts lie about the thresholds, or anywhere
        const std::string time = fmt::format("{}{}{}5", row, mark, digits(9));
        const std::string left =
            fmt::format("{}{}{}", *rc::gen::element("3", "5", "0", "12", "05", "1234567"), mark,
                        *rc::gen::element("", "0", "1", "2", "5", "500", "3456789", "49999999"));
        const std::string right = fmt::format("1{}{}{}", digits(9), mark, digits(12));
        plain += fmt::format("{};{};{}\n", time, left, right);
        quoted += fmt::format("\"{}\";\"{}\";\"{}\"\n", time, left, right);
    }
    const Trace expected = read(quoted, options);
    const Trace trace = read(plain, options);
    RC_ASSERT(trace.edges == expected.edges);
    RC_ASSERT(trace.end_us == expected.end_us);
}

// Rows in which nothing happens are passed over by the form of their text; quoted ones are not.
RC_GTEST_PROP(CsvDialects, QuietRowsSayWhatQuotedOnesSay, ()) {
    const RecordingOptions options{.active_high = *rc::gen::arbitrary<bool>(),
                                   .on_above_v = *rc::gen::element(6.0, 9.995, 0.0, -1.0),
                                   .off_below_v = *rc::gen::element(0.0, 4.0, -1.5)};
    RC_PRE(options.off_below_v <= options.on_above_v);
    std::string plain = "time_s,left_v,brake,right_v,note\n";
    std::string quoted = plain;
    double time_s = *rc::gen::element(0.0, 9.99, 999.0, 99'999'990.0);
    for (int stretch = *rc::gen::inRange(1, 8); stretch > 0; --stretch) {
        const double level_v = *rc::gen::element(-0.2, 0.0, 4.0, 6.0, 9.99, 12.6);
        const double noise_v = *rc::gen::element(0.0, 0.001, 0.02, 7.0);
        const int brake = *rc::gen::inRange(0, 2);
        const double step_s = *rc::gen::element(0.0, 0.0001, 0.01);
        for (int row = *rc::gen::inRange(1, 80); row > 0; --row) {
            const auto draw = [&] { return level_v + noise_v * *rc::gen::inRange(-10, 11); };
            const std::array<double, 2> volts{draw(), draw()};
            plain += fmt::format("{:.4f},{:.3f},{},{:.3f},{}\n", time_s, volts[0], brake, volts[1], row);
            quoted += fmt::format("\"{:.4f}\",{:.3f},{},{:.3f},{}\n", time_s, volts[0], brake, volts[1], row);
            time_s += step_s;
        }
    }
    const Trace expected = read(quoted, options);
    const Trace trace = read(plain, options);
    RC_ASSERT(trace.edges == expected.edges);
    RC_ASSERT(trace.end_us == expected.end_us);
}

TEST(CsvDialects, WhatIsWrongBehindQuietRowsIsFoundInItsLine) {
    std::string rows = "time_s,left_v,right\n";
    for (int i = 0; i < 1'000; ++i)
        rows += fmt::format("{:.3f},{:.3f},0\n", 0.001 * i, 0.01 * (i % 7));
    for (const std::string_view bad : {"0.998,0.000,0", "1.000,0.0x0,0", "1.000,0.000,2", "1.000,0.000"})
        expect_refusal(rows + std::string(bad) + "\n", 1'002, {});
}

// Python's csv module, in its dialects "excel" (CR LF, quotes where needed) and with everything quoted.
TEST(CsvDialects, WhatPythonsCsvModuleWritesIsRead) {
    for (const std::string_view dialect : {"delimiter=','", "delimiter=';'", "quoting=csv.QUOTE_ALL",
                                           "delimiter=';', quoting=csv.QUOTE_NONNUMERIC"}) {
        const std::string text =
            written_by_python(fmt::format("import csv, sys\nout = csv.writer(sys.stdout, {})\n"
                                          "out.writerow(['note', 'time_ms', 'left', 'right_v'])\n"
                                          "for i in range(100): out.writerow(['say \"a;b,c\"\\nand more', i "
                                          "* 0.125, i % 2, i % 3 * 6.5])\n",
                                          dialect));
        std::vector<Edge> expected;
        for (unsigned i = 0; i < 100; ++i)
            expected.push_back({i * 125, lines(i % 2 + (i % 3 == 0 ? 0 : 2))});
        EXPECT_EQ(read(text).edges, expected) << dialect;
    }
}
