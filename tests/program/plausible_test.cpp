// A slip of the unit or of the decimal point is told, whatever field it is in.
#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/base/vehicle/plausible.hpp"

#include "temp.hpp"

#include <algorithm>
#include <gtest/gtest.h>
#include <regex>
#include <set>

using namespace winkhold::host;
using winkhold::testing::TempFolder;

namespace {

/// Fields of the demo bike with a number or a duration, as "section.key".
std::set<std::string> figures_of_the_demo() {
    std::ifstream file(WINKHOLD_DATA "/vehicles/demo.toml");
    const std::regex heading(R"re(^\[+(\w+)\]+.*)re");
    const std::regex figure(R"re(^(\w+) = \[?"?-?[0-9][0-9_.]*((ms|us|s)")?[,\]]?(\s.*)?$)re");
    std::set<std::string> found;
    std::string section;
    std::smatch match;
    for (std::string line; std::getline(file, line);)
        if (std::regex_match(line, match, heading))
            section = match[1];
        else if (std::regex_match(line, match, figure))
            found.insert(section + "." + match[1].str());
    return found;
}

TEST(Plausible, EveryFigureOfABikeHasARange) {
    const std::set<std::string> ours{"vehicle.format", "rider.transit", "decoder.settle"}; // no parts' values
    const std::set<std::string> figures = figures_of_the_demo();
    EXPECT_GT(figures.size(), 60u);
    for (const std::string& figure : figures) {
        const auto usual = usual_values();
        const bool has_one = std::any_of(usual.begin(), usual.end(), [&](const Usual& one) {
            return figure == std::string(one.section) + "." + std::string(one.key);
        });
        EXPECT_NE(has_one, ours.contains(figure)) << figure;
    }
}

TEST(Plausible, NothingOfTheDemoIsOutside) {
    EXPECT_TRUE(implausible_fields(Vehicle::demo()).empty());
}

TEST(Plausible, EachFieldIsTakenBelowAndAboveWithPlaceAndUnit) {
    const TempFolder folder;
    for (const Usual& usual : usual_values()) {
        const bool is_list = usual.section == "lamps" || usual.section == "wires";
        const auto with = [&](double value) {
            const std::string text = usual.unit == "ms" ? fmt::format("\"{}us\"", std::lround(value * 1e3))
                                                        : fmt::format("{}", value);
            const std::string heading =
                is_list ? fmt::format("[[{}]]", usual.section) : fmt::format("[{}]", usual.section);
            return Vehicle::read(
                folder.write("a.toml", fmt::format("{}\n{} = {}\n", heading, usual.key, text)));
        };
        const auto outside = [&](double value) { return implausible_fields(with(value)); };
        const std::string name = fmt::format("{}.{}", usual.section, usual.key);
        EXPECT_TRUE(outside(usual.least).empty()) << name;
        EXPECT_TRUE(outside(usual.most).empty()) << name;
        EXPECT_EQ(outside(0).empty(), usual.or_none || (usual.least <= 0 && usual.most >= 0)) << name;
        const auto high = outside(usual.most * 1.1 + 0.1);
        ASSERT_EQ(high.size(), 1u) << name;
        EXPECT_FALSE(high[0].is_low());
        EXPECT_EQ(high[0].place.line, 2);
        const std::vector<std::string> fields(1, high[0].field);
        EXPECT_NE(why_not_known(with(usual.most * 1.1 + 0.1), fields).find("can't be right"),
                  std::string::npos);
        if (usual.unit != "ms" || usual.least < 0) continue;
        EXPECT_NE(advice_on(high[0]).find(" ms; look at number and unit"), std::string::npos);
    }
}

TEST(Plausible, TheWorstOfAListCounts) {
    const TempFolder folder;
    const auto all = implausible_fields(Vehicle::read(folder.write(
        "a.toml", "[lines]\nrise_skew = ['-300ms', '210ms']\n[[wires]]\nlength_m = [1, 9, 7]\n")));
    ASSERT_EQ(all.size(), 2u);
    EXPECT_EQ(all[0].value, -300);
    EXPECT_EQ(all[1].value, 9);
    EXPECT_EQ(all[1].field, "wires.0.length_m");
}

} // namespace
