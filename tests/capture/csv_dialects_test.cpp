/// CSV as spreadsheets and other programs write it.
#include "support.hpp"

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
