// What a case's folder may hold, and how a bad one is refused.
#include "verify/support.hpp"
#include "winkhold/base/error.hpp"
#include "winkhold/taps/verify/case.hpp"

#include <functional>
#include <sstream>

namespace winkhold::testing {
namespace {

std::string complaint_of(const std::function<void()>& call) {
    try {
        call();
    } catch (const host::InputError& error) {
        return error.what();
    }
    return "";
}

TEST(Case, AllItsPartsAreRead) {
    const Scratch scratch;
    write_case(scratch, "one");
    scratch.write(
        "one/case.toml",
        replaced(good_case, "synthetic", "real") +
            "left = \"a_v\"\nright = \"none\"\nactive = \"low\"\non_above = 8\noff_below = 6\n"
            "[decoder]\nhold_rule = \"fixed\"\nhold = \"400ms\"\n[expected]\ntolerance = \"3ms\"\n");
    const host::VerifyCase read = host::read_case(scratch.path("one"));
    EXPECT_EQ(read.recording, scratch.path("one/recording.csv"));
    EXPECT_EQ(read.options.left, "a_v");
    EXPECT_EQ(read.options.right, "none");
    EXPECT_FALSE(read.options.active_high);
    EXPECT_EQ(read.options.on_above_v, 8);
    EXPECT_EQ(read.options.off_below_v, 6);
    EXPECT_EQ(read.settings.rule, core::HoldRule::fixed);
    EXPECT_EQ(read.settings.hold_us, 400'000u);
    EXPECT_EQ(read.tolerance_us, 3'000);
    EXPECT_EQ(read.provenance.origin, host::Origin::real);
    EXPECT_EQ(read.provenance.reason, "one flash");
    ASSERT_TRUE(read.expected);
    const host::Timeline expected{
        {0, core::Indication::off}, {505'000, core::Indication::left}, {1'853'000, core::Indication::off}};
    EXPECT_EQ(*read.expected, expected);
}

TEST(Case, WithoutSettingsItIsTheDefaultDecoderToTheMicrosecond) {
    const Scratch scratch;
    write_case(scratch, "one");
    const host::VerifyCase read = host::read_case(scratch.path("one"));
    EXPECT_EQ(read.settings.hold_us, core::Settings{}.hold_us);
    EXPECT_EQ(read.tolerance_us, 0);
    EXPECT_TRUE(read.options.active_high);
    EXPECT_FALSE(read.options.left);
}

TEST(Case, EveryPartOfTheProvenanceIsNeeded) {
    const Scratch scratch;
    for (const char* field : {"origin", "source", "licence", "reason", "reasoning"}) {
        write_case(scratch, "one");
        scratch.write("one/case.toml", replaced(good_case, std::string(field) + " =", "# "));
        EXPECT_EQ(complaint_of([&] { host::read_case(scratch.path("one")); }),
                  scratch.path("one/case.toml") + ":1: [provenance] " + field + ": missing");
    }
}

TEST(Case, BadFilesAreRefusedWithTheirPlace) {
    const Scratch scratch;
    const auto complaint = [&](const std::string& file, const std::string& text) {
        write_case(scratch, "one");
        scratch.write("one/" + file, text);
        const std::string what = complaint_of([&] { host::read_case(scratch.path("one")); });
        EXPECT_TRUE(what.starts_with(scratch.path("one/" + file))) << what;
        return what.substr(std::min(what.size(), scratch.path("one/" + file).size()));
    };
    const auto toml = [&](const std::string& from, const std::string& to) {
        return complaint("case.toml", replaced(good_case, from, to));
    };
    EXPECT_EQ(toml("synthetic", "found"), ":2: [provenance] origin: write one of: synthetic, edited, real");
    EXPECT_EQ(toml("recording.csv", "../recording.csv"),
              ":8: [recording] file: name a file in the case's own folder");
    EXPECT_EQ(toml("recording.csv", "-"), ":8: [recording] file: name a file in the case's own folder");
    EXPECT_EQ(toml("[recording]\nfile", "[decoder]\nhold"), ": no [recording] section");
    EXPECT_NE(toml("[recording]", "[settings]\n[recording]").find("settings: unknown field"),
              std::string::npos);
    EXPECT_NE(toml("file =", "speed = 1\nfile =").find("speed: unknown field"), std::string::npos);
    EXPECT_EQ(complaint("case.toml", good_case + "[expected]\ntolerance = \"1001ms\"\n"),
              ":10: [expected] tolerance: 1001ms is out of range, the longest is 1000 ms");

    const auto rows = [&](const std::string& text) { return complaint("expected.csv", text); };
    EXPECT_EQ(rows("time_ms,indication\n0,off\n"), ":1: the header must be time_us,indication");
    EXPECT_EQ(rows("time_us,indication\n"), ":1: no rows; the first one says what is shown at the start");
    EXPECT_EQ(rows(""), ": no rows; the first one says what is shown at the start");
    const std::string head = "time_us,indication\n0,off\n";
    EXPECT_EQ(rows(head + "7,both\n"), ":3: no indication; write off, left, right or hazard");
    EXPECT_EQ(rows(head + "7,left\n7,off\n"), ":4: times must rise from row to row");
    EXPECT_EQ(rows(head + "7,off\n"), ":3: off again is no change; leave the row out");
    for (const char* row :
         {"left,7", "7", "-7,left", "7ms,left", "7 ,left", "999999999999999999,left", ",left"})
        EXPECT_EQ(rows(head + row + "\n"),
                  ":3: write a time in us, a comma and an indication, like 6000,left");
}

TEST(Case, WhatIsWrittenAsATimelineIsReadBack) {
    const Scratch scratch;
    write_case(scratch, "one");
    const host::Timeline timeline = host::read_timeline_csv(scratch.path("one/expected.csv"));
    std::ostringstream out;
    host::write_timeline_csv(out, timeline);
    EXPECT_EQ(out.str(), good_expected);
    scratch.write("crlf.csv", "time_us,indication\r\n0,off\r\n505000,left\r\n1853000,off\r\n");
    EXPECT_EQ(host::read_timeline_csv(scratch.path("crlf.csv")), timeline) << "a spreadsheet's line ends";
}

TEST(FindCases, LooksIntoEveryFolderAndSortsByName) {
    const Scratch scratch;
    for (const char* name : {"b", "a/deep/er", "a/shallow"})
        write_case(scratch, name);
    scratch.write("loose.csv", good_recording);
    std::vector<std::string> names;
    for (const host::FoundCase& found : host::find_cases(scratch.path("")))
        names.push_back(found.name);
    EXPECT_EQ(names, (std::vector<std::string>{"a/deep/er", "a/shallow", "b"}));
    const auto one = host::find_cases(scratch.path("b"));
    ASSERT_EQ(one.size(), 1u);
    EXPECT_EQ(one[0].name, "b") << "a case by itself goes by its folder's name";
}

TEST(FindCases, NothingFoundIsAFailureAndSoIsACaseWithoutItsFile) {
    const Scratch scratch;
    EXPECT_NE(complaint_of([&] { host::find_cases(scratch.path("nowhere")); }).find("no such folder"),
              std::string::npos);
    EXPECT_NE(complaint_of([&] { host::find_cases(scratch.path("")); }).find("holds no case"),
              std::string::npos);
    write_case(scratch, "one");
    write_case(scratch, "two");
    std::filesystem::remove(scratch.path("two/case.toml"));
    EXPECT_EQ(complaint_of([&] { host::find_cases(scratch.path("")); }),
              scratch.path("two") + ": has an expected.csv but no case.toml; what is it a case of?");
}

} // namespace
} // namespace winkhold::testing
