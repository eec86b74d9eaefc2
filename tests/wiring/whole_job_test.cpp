// README.md's worked example from recording to checklist, run as it stands there.
#include "wiring/bike.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <regex>

namespace winkhold::testing {
namespace {

/// README.md, or that of a folder.
std::string readme(const std::string& folder = "") {
    std::ifstream file(WINKHOLD_SOURCE "/" + folder + "README.md", std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

std::string between(const std::string& text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    if (at == std::string::npos) throw std::logic_error("README.md lacks " + from);
    return text.substr(at + from.size(), text.find(to, at + from.size()) - at - from.size());
}

TEST(WholeJob, RunsAsTheReadmeHasItAndGivesTheFiguresThere) {
    const std::string section = between(readme(), "## The whole job, once", "\n## ");
    std::string commands = between(section, "```sh\n", "```");
    commands = std::regex_replace(commands, std::regex("--trials 20000"),
                                  "--trials 200"); // it's the way that counts
    const Scratch scratch; // stands for the clone, so that the job's files are gone afterwards
    std::filesystem::create_directory_symlink(WINKHOLD_SOURCE "/data", scratch.path("data"));
    const std::string script =
        scratch.write("job.sh", "set -e\ncd \"$(dirname \"$0\")\"\n"
                                "winkhold() { '" WINKHOLD_PROGRAM "' \"$@\" || [ $? -eq 1 ]; }\n" +
                                    commands);
    ASSERT_EQ(
        std::system(
            ("bash '" + script + "' >'" + scratch.path("out") + "' 2>'" + scratch.path("err") + "'").c_str()),
        0)
        << scratch.read("err");
    // what simulate wrote, and what fit and sweep changed
    EXPECT_NE(scratch.read("err").find("Changed in bike.toml:"), std::string::npos) << scratch.read("err");

    const auto fit = nlohmann::json::parse(scratch.run("fit " + scratch.path("ride.csv") + " --json").out);
    const auto& period = fit["rhythm"]["period_ms"];
    const std::string fitted = fmt::format(
        "period {:.1f} ms (95 %: {:.1f} to {:.1f}), {:.1f} % lit, {}", period["value"].get<double>(),
        period["low"].get<double>(), period["high"].get<double>(),
        fit["rhythm"]["duty_percent"]["value"].get<double>(), fit["side_change"]["model"].get<std::string>());
    EXPECT_NE(section.find(fitted), std::string::npos) << fitted;
    EXPECT_NE(section.find("41 wires"), std::string::npos);
    EXPECT_NE(scratch.read("wiring.md").find("41 wires, nothing found wrong"), std::string::npos);
    EXPECT_NE(scratch.read("checklist.md").find("Checklist of Demo bike"), std::string::npos);
    EXPECT_NE(scratch.read("checklist.md").find(" 0 passed, 0 failed,"), std::string::npos);
}

TEST(Readme, ShowsTheWiringSheetAndTheBrokenLimitAsTheProgramPrintsThem) {
    const Scratch scratch;
    const std::string text = readme("apps/winkhold/");
    std::istringstream wires(between(text, "\n```\nwinkhold wiring data/vehicles/demo.toml\n\n", "...\n```"));
    const std::string sheet = scratch.run("wiring data/vehicles/demo.toml").out;
    EXPECT_EQ(sheet.rfind(wires.str(), 0), 0u) << sheet.substr(0, wires.str().size());

    const Ran measured = scratch.run("checklist data/vehicles/demo-measured.toml");
    EXPECT_EQ(measured.exit_code, 1) << "its ground is bad";
    const std::string shown = between(text, "```\n3. First power on the bike\n", "```");
    const std::size_t gap = shown.find("...\n");
    EXPECT_NE(measured.out.find(shown.substr(0, gap)), std::string::npos) << measured.out;
    EXPECT_NE(measured.out.find(shown.substr(gap + 4)), std::string::npos) << measured.out;
}

} // namespace
} // namespace winkhold::testing
