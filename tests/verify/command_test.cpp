// winkhold verify, as a user and as continuous integration run it.
#include "verify/support.hpp"

#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

namespace winkhold::testing {
namespace {

using nlohmann::json;

/// A folder's name may be anything, even invalid UTF-8; outputs then show a '?'.
const std::string odd = "odd #1 <&>\xff";
const std::string odd_shown = "odd #1 <&>?";

/// Four cases: "differs", "fine", "new" without an answer, and an odd one that can't be read.
void write_four(const Scratch& scratch) {
    for (const std::string& name : {std::string("differs"), std::string("fine"), std::string("new"), odd})
        write_case(scratch, "cases/" + name);
    scratch.write("cases/differs/expected.csv", replaced(good_expected, "1853000", "1852000"));
    std::filesystem::remove(scratch.path("cases/new/expected.csv"));
    scratch.write("cases/" + odd + "/case.toml",
                  replaced(good_case, "\"recording.csv\"", "\"no \\u0001 & <such> 'file' \\\"\\uFFFE.csv\""));
}

Ran verify(const Scratch& scratch, const std::string& options = "") {
    return scratch.run("verify '" + scratch.path("cases") + "' " + options);
}

TEST(Verify, ExitsWith0IfAllPass1IfOneDiffersAnd2IfOneCantBeRead) {
    const Scratch scratch;
    write_case(scratch, "cases/fine");
    const Ran fine = verify(scratch);
    EXPECT_EQ(fine.exit_code, 0);
    EXPECT_EQ(fine.out, "passed   fine\n\n1 case: 1 as expected, 0 different, 0 refused\n");
    EXPECT_EQ(fine.err, "");
    write_case(scratch, "cases/other");
    scratch.write("cases/other/expected.csv", replaced(good_expected, "left", "right"));
    EXPECT_EQ(verify(scratch).exit_code, 1);
    write_case(scratch, "cases/third");
    scratch.write("cases/third/recording.csv", "nonsense");
    EXPECT_EQ(verify(scratch).exit_code, 2);
    scratch.write("cases/third/recording.csv", good_recording);
    std::filesystem::remove(scratch.path("cases/third/expected.csv"));
    EXPECT_EQ(verify(scratch).exit_code, 2) << "a case without an answer proves nothing";
}

TEST(Verify, ZeroCasesAreAFailure) {
    const Scratch scratch;
    std::filesystem::create_directories(scratch.path("cases"));
    const Ran none = verify(scratch, "--tap");
    EXPECT_EQ(none.exit_code, 2);
    EXPECT_EQ(none.out, "");
    EXPECT_NE(none.err.find("holds no case"), std::string::npos) << none.err;
    EXPECT_EQ(scratch.run("verify").exit_code, 2);
    EXPECT_EQ(scratch.run("verify " + scratch.path("cases") + " --tap --json").exit_code, 2);
}

TEST(Verify, ADifferenceIsShownWhereItIs) {
    const Scratch scratch;
    write_four(scratch);
    const Ran ran = verify(scratch);
    EXPECT_EQ(ran.exit_code, 2);
    const std::string wrong = "differs  differs\n"
                              "         late: expected off at 1.852000 s, got off at 1.853000 s\n"
                              "         kept for: one flash\n";
    EXPECT_EQ(ran.out.substr(0, wrong.size()), wrong);
    std::istringstream lines(ran.out.substr(wrong.size()));
    std::map<std::string, std::string> strips;
    std::string line;
    std::string group;
    while (std::getline(lines, line) && line.find('^') == std::string::npos) {
        std::string label = line.substr(0, 15);
        label.erase(0, label.find_first_not_of(' '));
        if (label != "right") group = label.substr(0, label.find(' '));
        strips[group + (label == "right" ? " right" : " left")] = line.substr(16);
    }
    ASSERT_EQ(strips.size(), 6u);
    const std::size_t mark = line.find('^') - 16;
    EXPECT_EQ(strips["line left"], std::string(64, '_'));
    EXPECT_EQ(strips["got right"], std::string(64, '_'));
    EXPECT_EQ(strips["got left"].substr(0, mark), std::string(mark, '#'));
    EXPECT_EQ(strips["expected left"].substr(0, mark), std::string(mark, '#'));
    EXPECT_EQ(strips["expected left"].substr(mark + 1), std::string(63 - mark, '_'));
    EXPECT_NE(strips["expected left"], strips["got left"]);
}

TEST(Verify, JsonTellsEachCase) {
    const Scratch scratch;
    write_four(scratch);
    const json read = json::parse(verify(scratch, "--json").out);
    EXPECT_EQ(read["schema"], "winkhold.verify/1");
    EXPECT_EQ(read["passed"], 1);
    EXPECT_EQ(read["differs"], 1);
    EXPECT_EQ(read["refused"], 2);
    const json& cases = read["cases"];
    ASSERT_EQ(cases.size(), 4u);
    EXPECT_EQ(cases[0]["difference"],
              json::parse(R"({"kind":"late","expected":{"t_us":1852000,"indication":"off"},
                              "got":{"t_us":1853000,"indication":"off"}})"));
    EXPECT_EQ(cases[1], json::parse(R"({"case":"fine","outcome":"passed","origin":"synthetic",
                                        "reason":"one flash","tolerance_us":0,"changes":3})"));
    EXPECT_NE(cases[2]["complaint"].get<std::string>().find("no expected.csv"), std::string::npos);
    EXPECT_EQ(cases[3]["case"], odd_shown);
}

TEST(Verify, AcceptWritesCandidatesAndNeverTouchesWhatIsExpected) {
    const Scratch scratch;
    write_four(scratch);
    const std::string expected_before = scratch.read("cases/differs/expected.csv");
    const Ran ran = verify(scratch, "--accept");
    EXPECT_EQ(ran.exit_code, 2) << "accepting makes nothing pass";
    EXPECT_NE(ran.err.find("expected.candidate.csv: look at it, then rename it"), std::string::npos);
    EXPECT_EQ(scratch.read("cases/differs/expected.csv"), expected_before);
    EXPECT_EQ(scratch.read("cases/differs/expected.candidate.csv"), good_expected);
    EXPECT_EQ(scratch.read("cases/new/expected.candidate.csv"), good_expected);
    EXPECT_FALSE(std::filesystem::exists(scratch.path("cases/new/expected.csv")));
    EXPECT_FALSE(std::filesystem::exists(scratch.path("cases/fine/expected.candidate.csv")));
    for (const char* name : {"differs", "new"})
        std::filesystem::rename(scratch.path(std::string("cases/") + name + "/expected.candidate.csv"),
                                scratch.path(std::string("cases/") + name + "/expected.csv"));
    std::filesystem::remove_all(scratch.path("cases/" + odd));
    EXPECT_EQ(verify(scratch).exit_code, 0) << "once a person has renamed them";
}

// JUnit has no standard of its own; the element names are those that CI servers read (common practice).
// Python's expat is the independent parser.
TEST(Verify, AnotherXmlParserReadsTheJunitReport) {
    const Scratch scratch;
    write_four(scratch);
    EXPECT_EQ(verify(scratch, "--junit " + scratch.path("report.xml")).exit_code, 2);
    EXPECT_EQ(verify(scratch, "--junit -").out, scratch.read("report.xml"));
    scratch.write("read.py", R"(
import json, sys, xml.etree.ElementTree as ET
suite, = ET.parse(sys.argv[1]).getroot().findall('testsuite')
print(json.dumps({'counts': [int(suite.get(k)) for k in ('tests', 'failures', 'errors', 'skipped')],
                  'cases': [[c.get('name'), [[w.tag, w.get('message'), w.text or ''] for w in c]]
                            for c in suite.findall('testcase')]}))
)");
    const std::string command = "python3 '" + scratch.path("read.py") + "' '" + scratch.path("report.xml") +
                                "' > '" + scratch.path("read.json") + "'";
    ASSERT_EQ(std::system(command.c_str()), 0) << "python3 must be there and the report be valid XML";
    const json read = json::parse(scratch.read("read.json"));
    EXPECT_EQ(read["counts"], json({4, 1, 2, 0}));
    const json& cases = read["cases"];
    ASSERT_EQ(cases.size(), 4u);
    EXPECT_EQ(cases[0][0], "differs");
    EXPECT_EQ(cases[0][1][0][0], "failure");
    EXPECT_EQ(cases[0][1][0][1], "late: expected off at 1.852000 s, got off at 1.853000 s");
    EXPECT_NE(cases[0][1][0][2].get<std::string>().find("expected left"), std::string::npos);
    EXPECT_EQ(cases[1], json({"fine", json::array()}));
    EXPECT_EQ(cases[2][1][0][0], "error");
    EXPECT_EQ(cases[3][0], odd_shown);
    const auto message = cases[3][1][0][1].get<std::string>();
    EXPECT_NE(message.find("& <such> 'file' \"?.csv"), std::string::npos) << message;
}

// https://testanything.org/tap-version-13-specification.html, from memory: version, plan, test lines, YAML
// blocks. `prove` is Perl's own reader of it.
TEST(Verify, TapFollowsItsGrammarAndProveReadsIt) {
    const Scratch scratch;
    write_four(scratch);
    scratch.write("mixed.tap", verify(scratch, "--tap").out);
    const std::regex grammar(R"(TAP version 13\n1\.\.4\n)"
                             R"(((not )?ok [1-4] - (\\[\\#]|[^\\#\n])+\n)"
                             R"((  ---\n(  [a-z]+: [^\n]+\n)+  \.\.\.\n)?){4})");
    EXPECT_TRUE(std::regex_match(scratch.read("mixed.tap"), grammar)) << scratch.read("mixed.tap");
    const auto prove = [&](const std::string& file) {
        return std::system(
            ("prove --exec cat '" + scratch.path(file) + "' > '" + scratch.path("proved") + "' 2>&1")
                .c_str());
    };
    EXPECT_NE(prove("mixed.tap"), 0);
    EXPECT_NE(scratch.read("proved").find("Failed 3/4 subtests"), std::string::npos)
        << scratch.read("proved");
    for (const std::string& name : {std::string("differs"), std::string("new"), odd})
        std::filesystem::remove_all(scratch.path("cases/" + name));
    scratch.write("good.tap", verify(scratch, "--tap").out);
    EXPECT_EQ(prove("good.tap"), 0) << scratch.read("proved");
}

TEST(Verify, TheSameCasesGiveTheSameBytes) {
    const Scratch scratch;
    write_four(scratch);
    for (const char* options : {"", "--json", "--tap", "--junit -"})
        EXPECT_EQ(verify(scratch, options).out, verify(scratch, options).out) << options;
}

} // namespace
} // namespace winkhold::testing
