// Tables and papers: what stands where, and that nothing is lost or too wide.
#include "text/lines.hpp"
#include "winkhold/base/text/detail/sheet.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace winkhold::testing {
namespace {

using base::Align;
using base::Table;

TEST(Wrapped, BreaksAtSpacesAndCountsCharactersNotBytes) {
    EXPECT_EQ(base::wrapped("- ", "  ", "aaa bbb ccc", 9), "- aaa bbb\n  ccc\n");
    EXPECT_EQ(base::wrapped("", "", "üüü üüü üüü", 7), "üüü üüü\nüüü\n");
    EXPECT_EQ(base::wrapped("", "", "", 7), "\n");
}

TEST(Wrapped, AWordThatFitsInNoLineGoesOnInTheNextOne) {
    EXPECT_EQ(base::wrapped("- ", "  ", "abcdefghij k", 6), "- abcd\n  efgh\n  ij k\n");
    EXPECT_EQ(base::wrapped("label ", " ", "abcdefg", 8), "label\n abcdefg\n");
    EXPECT_EQ(base::wrapped("", "", "üüüüü", 2), "üü\nüü\nü\n");
}

TEST(TableText, AlignsNumbersRightAndPutsHeadsOverNeighbours) {
    Table table{{"name", {"mean", Align::right, "ms"}, {"p99", Align::right, "ms"}, {"count", Align::right}}};
    table.rows = {{"a", "1", "20", "3"}, {"a long name", "100.5", "2", "4"}, {"and a line across"}};
    EXPECT_EQ(table_text(table), "                 ms\n"
                                 "name          mean  p99  count\n"
                                 "a                1   20      3\n"
                                 "a long name  100.5    2      4\n"
                                 "and a line across\n");
}

TEST(TableText, WithoutAnyHeadHasNoLineForThem) {
    const Table table{{"", ""}, {{"rate", "85/min"}, {"lit", "50 %"}}};
    EXPECT_EQ(table_text(table, 2), "  rate  85/min\n  lit   50 %\n");
}

TEST(TableText, WrapsCellsWhereThereIsNoRoom) {
    const std::string sentence = "one two three four five six seven eight nine ten eleven twelve thirteen";
    const Table table{{"key", "what is to be said of it"}, {{"a short key", sentence}, {"b", "c"}}};
    EXPECT_EQ(table_text(table),
              "key          what is to be said of it\n"
              "a short key  one two three four five six seven eight nine ten eleven twelve\n"
              "             thirteen\n"
              "b            c\n");
}

TEST(TableText, WrapsTheColumnThatNeedsTheFewestLinesForIt) {
    Table table{{"from", "to", "why"}};
    for (int i = 0; i < 5; ++i)
        table.rows.push_back({"lamps front left", "board one", std::string(44, 'x')});
    table.rows.push_back({"board", "somewhere else altogether", "y"});
    const std::string text = table_text(table);
    EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 1 + 5 + 2) << text;
    EXPECT_TRUE(too_wide(text).empty()) << text;
}

TEST(TableText, AHeadAboveAnotherKeepsItsRoomWhereCellsWrap) {
    Table table{{"what", {"mean", Align::right, "acquisition"}, "why"}};
    table.rows.push_back({"a", "1", std::string(30, 'x') + " " + std::string(40, 'y')});
    const std::string text = table_text(table);
    EXPECT_NE(text.find("acquisition"), std::string::npos) << text;
    EXPECT_TRUE(too_wide(text).empty()) << text;
}

TEST(TableText, ThatCanNotFitIsAListOfItsCells) {
    Table table;
    table.rows.emplace_back();
    for (int i = 0; i < 20; ++i) {
        table.columns.emplace_back("head" + std::to_string(i));
        table.rows[0].push_back("value" + std::to_string(i));
    }
    const std::string text = table_text(table);
    EXPECT_NE(text.find("head0: value0\nhead1: value1\n"), std::string::npos) << text;
    EXPECT_NE(text.find("head19: value19\n"), std::string::npos) << text;
}

std::string letters_of(const std::string& text) {
    std::string letters;
    for (const char c : text)
        if (c >= 'a' && c <= 'z') letters += c;
    std::sort(letters.begin(), letters.end());
    return letters;
}

RC_GTEST_PROP(TableText, IsNeverWiderThan80ColumnsAndLosesNothing, ()) {
    const auto cell = rc::gen::scale(
        2.0, rc::gen::container<std::string>(rc::gen::element('a', 'b', 'c', 'd', 'e', 'f', ' ')));
    const auto count = *rc::gen::inRange<std::size_t>(2, 15);
    Table table;
    std::string all;
    for (std::size_t c = 0; c < count; ++c)
        table.columns.emplace_back("", *rc::gen::element(Align::left, Align::right));
    for (int row = 0; row < 3; ++row) {
        table.rows.push_back(*rc::gen::container<std::vector<std::string>>(count, cell));
        for (const std::string& text : table.rows.back())
            all += text;
    }
    const std::string text = table_text(table, 2);
    RC_ASSERT(too_wide(text).empty());
    RC_ASSERT(letters_of(text) == letters_of(all));
}

TEST(TableMarkdown, MarksTheAlignmentNamesTheHeadAboveOnceAndEscapesMarkup) {
    const Table table{{"a|b", {"mean", Align::right, "ms"}, {"max", Align::right, "ms"}},
                      {{"`x`", "1", "2"}, {"across"}}};
    EXPECT_EQ(table_markdown(table), "| a\\|b | ms: mean | max |\n|---|--:|--:|\n"
                                     "| \\`x\\` | 1 | 2 |\n| across |  |  |\n");
}

TEST(TableCsv, HasTheHeadsAndOneRecordARow) {
    const Table table{{"a", {"b,c", Align::right, "over"}}, {{"1", "say \"x\""}}};
    EXPECT_EQ(table_csv(table), "a,\"b,c\"\n1,\"say \"\"x\"\"\"\n");
}

TEST(Sheet, LeavesOutEmptyColumnsAndEndsWithTheCaution) {
    const base::Sheet sheet{"Title", "All well.", {{"Part", {"a sentence"}, {{"x", "y"}, {{"1", ""}}}}}};
    const std::string text = sheet_text(sheet);
    EXPECT_EQ(text.find("Title\n\nAll well.\n\nPart\n  - a sentence\n  x\n  1\n\nBench figures"), 0u) << text;
    const std::string markdown = sheet_markdown(sheet);
    EXPECT_EQ(markdown.find("# Title\n\nAll well.\n\n## Part\n\n- a sentence\n\n| x |\n|---|\n| 1 |\n\n> "),
              0u)
        << markdown;
}

} // namespace
} // namespace winkhold::testing
