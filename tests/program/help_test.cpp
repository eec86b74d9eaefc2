// What the program says of itself.
#include "program/run.hpp"

#include "winkhold/base/settings_text.hpp"

#include <algorithm>
#include <regex>
#include <sstream>
#include <vector>

namespace winkhold::testing {
namespace {

const std::vector<std::string> bike{"new",       "inspect",  "fit",    "decode",    "sweep",
                                    "simulate",  "sequence", "limits", "electrics", "wiring",
                                    "checklist", "pack",     "live",   "verify"};
const std::vector<std::string> proof{"prove faults", "prove families", "prove compare", "prove worth",
                                     "prove soak"};

std::vector<std::string> commands() {
    std::vector<std::string> all = bike;
    all.insert(all.end(), proof.begin(), proof.end());
    return all;
}

std::string help_of(const Scratch& scratch, const std::string& command) {
    const Ran ran = scratch.run(command + " --help");
    EXPECT_EQ(ran.exit_code, 0) << command;
    EXPECT_EQ(ran.err, "") << command;
    return ran.out;
}

/// Words apart by one space each, so that it doesn't matter where lines are broken.
std::string flat(const std::string& text) {
    std::istringstream in(text);
    std::string out;
    for (std::string word; in >> word;)
        out += word + " ";
    return out;
}

TEST(Help, NothingIsWiderThan80Columns) {
    const Scratch scratch;
    std::vector<std::string> all = commands();
    all.insert(all.end(), {"", "prove"});
    for (const std::string& command : all) {
        std::istringstream lines(help_of(scratch, command));
        for (std::string line; std::getline(lines, line);)
            EXPECT_LE(line.size(), 80u) << command << ": " << line;
    }
}

TEST(Help, ListsTheCommandsInTheOrderOfTheJobThenTheProof) {
    const Scratch scratch;
    const std::string help = help_of(scratch, "");
    std::size_t at = help.find("\nYour bike:\n");
    ASSERT_NE(at, std::string::npos);
    for (const std::string& command : commands()) {
        if (command == proof.front()) at = help.find("\nThe decoder's proof:\n", at);
        at = help.find("\n  " + command + "  ", at);
        ASSERT_NE(at, std::string::npos) << command;
    }
    EXPECT_NE(flat(help).find("--man, --completion bash|zsh|fish print"), std::string::npos);
    EXPECT_NE(help.find("never tune while riding"), std::string::npos);
}

TEST(Help, ProveListsItsFive) {
    const Scratch scratch;
    const std::string help = help_of(scratch, "prove");
    for (const std::string& command : proof)
        EXPECT_NE(help.find("\n  " + command + "  "), std::string::npos) << command;
    const Ran alone = scratch.run("prove");
    EXPECT_EQ(alone.exit_code, 2) << "nothing has been proved";
    EXPECT_NE(alone.err.find("faults, families, compare, worth or soak"), std::string::npos) << alone.err;
}

TEST(Help, NamesTheCoresDefaults) {
    const Scratch scratch;
    for (const std::string command : {"decode", "sweep", "sequence", "prove faults", "prove soak"}) {
        const std::string help = flat(help_of(scratch, command));
        for (const host::NamedSetting& named : host::named_settings) {
            EXPECT_EQ(named.help.find("default"), std::string::npos) << named.name << " says it twice";
            if (command == "sweep" && named.name == "guard") continue; // a grid
            std::string option = "--" + std::string(named.name);
            std::replace(option.begin(), option.end(), '_', '-');
            const std::size_t from = help.find(" " + option + " ", help.find("Decoder:"));
            ASSERT_NE(from, std::string::npos) << command << " " << option;
            const std::string its = help.substr(from, help.find(" --", from + 1) - from);
            std::string value = host::value_text(core::Settings{}, named.name);
            std::erase(value, ' ');
            EXPECT_NE(its.find("(default: " + value + ")"), std::string::npos) << command << ":" << its;
        }
    }
}

TEST(Help, SweepSaysWhatItVaries) {
    const Scratch scratch;
    const std::string help = flat(help_of(scratch, "sweep"));
    EXPECT_NE(help.find("--guard GRID paced rule: from:to:step to sweep (default: 0ms:120ms:10ms)"),
              std::string::npos)
        << help;
    EXPECT_NE(help.find("--hold GRID fixed rule: from:to:step to sweep (default: 100ms:900ms:20ms)"),
              std::string::npos)
        << help;
}

/// The example's commands, each on one line, as they can be typed.
std::vector<std::string> examples(const std::string& help) {
    std::string joined = help.substr(std::min(help.find("\nExample: "), help.size()));
    joined = std::regex_replace(joined, std::regex(R"( \\\n +)"), " ");
    std::vector<std::string> found;
    std::istringstream lines(joined);
    for (std::string line; std::getline(lines, line);)
        if (line.starts_with("  winkhold ")) found.push_back(line.substr(11));
    return found;
}

TEST(Help, EveryCommandHasAnExample) {
    const Scratch scratch;
    for (const std::string& command : commands()) {
        const std::vector<std::string> shown = examples(help_of(scratch, command));
        ASSERT_FALSE(shown.empty()) << command;
        EXPECT_EQ(shown.front().rfind(command + " ", 0), 0u) << shown.front();
    }
}

TEST(Help, TheExamplesRunWhereTheirFilesAreTheProjects) {
    const Scratch scratch;
    for (const std::string& command : commands())
        for (std::string example : examples(help_of(scratch, command))) {
            if (example.find("data/") == std::string::npos) continue;
            for (const char* file : {"ride.vcd", "truth.csv", "lamps.vcd", "verify.xml", "demo-board"})
                if (const auto at = example.find(file); at != std::string::npos)
                    example.replace(at, std::string(file).size(), scratch.path(file));
            const Ran ran = scratch.run(example);
            EXPECT_LE(ran.exit_code, 1) << example << ": " << ran.err;
            if (!example.starts_with("simulate")) { // which says what it wrote
                EXPECT_EQ(ran.err, "") << example;
            }
        }
}

TEST(Help, OntoAFullDiskIsNoSuccess) {
    const Scratch scratch;
    for (const char* asked :
         {"--help", "--version", "--man", "--completion zsh", "decode --help", "prove --help", "new -"}) {
        // '#' hides that run() sends the output elsewhere
        const Ran ran = scratch.run(std::string(asked) + " >/dev/full 2>'" + scratch.path(".err") + "' #");
        EXPECT_EQ(ran.exit_code, 2) << asked;
        EXPECT_NE(ran.err.find("is the disk full?"), std::string::npos) << asked << ": " << ran.err;
    }
}

} // namespace
} // namespace winkhold::testing
