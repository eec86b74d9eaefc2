// winkhold new: a file to begin with, and never over one that is there.
#include "wiring/bike.hpp"

namespace winkhold::testing {
namespace {

std::string demo() {
    std::ifstream file(WINKHOLD_DATA "/vehicles/demo.toml", std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

/// The demo as a file to begin with, without what marks its values as the example's.
std::string unmarked(const std::string& text) {
    std::istringstream lines(text);
    std::string rest;
    for (std::string line; std::getline(lines, line);)
        if (!line.starts_with("example = true")) rest += line + '\n';
    return rest;
}

std::string demo_as_begun() {
    const std::string invented = " This bike is invented.";
    std::string text = demo();
    return text.erase(text.find(invented), invented.size());
}

TEST(New, WritesTheDemoWithItsCommentsOfWhichNothingPassesTheWiringSheet) {
    const Scratch scratch;
    const std::string file = scratch.path("bike.toml");
    const Ran ran = scratch.run("new " + file);
    EXPECT_EQ(ran.exit_code, 0) << ran.err;
    EXPECT_EQ(unmarked(scratch.read("bike.toml")), demo_as_begun());
    const Ran sheet = scratch.run("wiring " + file);
    EXPECT_EQ(sheet.exit_code, 0) << sheet.out;
    EXPECT_NE(sheet.out.find("Still the example's:"), std::string::npos) << sheet.out;
    EXPECT_NE(sheet.out.find("nothing passed"), std::string::npos) << sheet.out;
    EXPECT_EQ(sheet.out.find("nothing found wrong"), std::string::npos) << sheet.out;
    EXPECT_EQ(scratch.run("wiring data/vehicles/demo.toml --json").out.find("still_example"),
              std::string::npos);
    const Ran json = scratch.run("wiring " + file + " --json");
    EXPECT_NE(json.out.find("\"still_example\""), std::string::npos) << json.out;
    EXPECT_NE(json.out.find("wires and nets: [wires] ("), std::string::npos) << json.out;
    EXPECT_NE(scratch.run("wiring " + file + " --csv").out.find("still-example,"), std::string::npos);
}

TEST(New, NeverOverwrites) {
    const Scratch scratch;
    const std::string file = scratch.write("bike.toml", "mine");
    const Ran ran = scratch.run("new " + file);
    EXPECT_EQ(ran.exit_code, 2);
    EXPECT_NE(ran.err.find("is there already"), std::string::npos) << ran.err;
    EXPECT_EQ(scratch.read("bike.toml"), "mine");
    EXPECT_EQ(ran.out, "");
}

TEST(New, NeverOverwritesWhatALinkPointsTo) {
    const Scratch scratch;
    std::filesystem::create_symlink(scratch.write("bike.toml", "mine"), scratch.path("link.toml"));
    EXPECT_EQ(scratch.run("new " + scratch.path("link.toml")).exit_code, 2);
    EXPECT_EQ(scratch.read("bike.toml"), "mine");
}

TEST(New, TakesANameWithQuotesAndBackslashes) {
    const Scratch scratch;
    const Ran ran = scratch.run("new " + scratch.path("bike.toml") + R"( --name 'The "red\one"')");
    EXPECT_EQ(ran.exit_code, 0) << ran.err;
    const Ran sheet = scratch.run("wiring " + scratch.path("bike.toml"));
    EXPECT_NE(sheet.out.find(R"(Wiring of The "red\one")"), std::string::npos) << sheet.out;
}

TEST(New, WritesToStandardOutput) {
    const Scratch scratch;
    const Ran ran = scratch.run("new -");
    EXPECT_EQ(ran.exit_code, 0) << ran.err;
    EXPECT_EQ(unmarked(ran.out), demo_as_begun());
}

TEST(New, RefusesAFolderThatIsNotThereAndANameOfTwoLines) {
    const Scratch scratch;
    const Ran absent = scratch.run("new " + scratch.path("no/bike.toml"));
    EXPECT_EQ(absent.exit_code, 2);
    EXPECT_NE(absent.err.find("does its folder exist?"), std::string::npos) << absent.err;
    const Ran lines = scratch.run("new " + scratch.path("bike.toml") + " --name 'a\nb'");
    EXPECT_EQ(lines.exit_code, 2) << lines.err;
    EXPECT_FALSE(std::filesystem::exists(scratch.path("bike.toml")));
}

} // namespace
} // namespace winkhold::testing
