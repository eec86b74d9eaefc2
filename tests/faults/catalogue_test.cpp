// The catalogue as data: complete, readable, refused where it is wrong.
#include "winkhold/base/error.hpp"
#include "winkhold/measure/faults/fault.hpp"
#include "winkhold/measure/faults/report.hpp"

#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <gtest/gtest.h>

namespace {

using namespace winkhold;

const std::string folder = WINKHOLD_DATA "/faults";

TEST(Catalogue, EveryFaultAndInteractionIsThereOnce) {
    std::vector<std::string> expected;
    for (int i = 1; i <= 36; ++i)
        expected.push_back(fmt::format("F{:02}", i));
    for (const char* pair : {"F03xF06", "F10xF17", "F12xF20", "F22xF17"})
        expected.emplace_back(pair);
    std::vector<std::string> found;
    for (const host::FaultCase& fault : host::read_faults(folder, {}))
        found.push_back(fault.id);
    EXPECT_EQ(found, expected);
}

TEST(Catalogue, EveryFileIsNamedAfterItsIdAndSaysWhatIsGoodAndFromWhere) {
    for (const host::FaultCase& fault : host::read_faults(folder, {})) {
        EXPECT_TRUE(std::filesystem::path(fault.file).filename().string().starts_with(fault.id + "-"))
            << fault.file;
        EXPECT_LE(fault.title.size(), 28u) << fault.file << ": the table has no more room";
        bool marked = false;
        for (const char* mark : {"read)", "quoted", "derived", "from memory", "no source"})
            marked = marked || fault.good.find(mark) != std::string::npos;
        EXPECT_TRUE(marked) << fault.file << ": " << fault.good;
        for (const host::FaultVariant& variant : fault.variants)
            EXPECT_EQ(core::check(variant.scenario.decoder), core::SettingsError::none);
    }
}

TEST(Catalogue, NamedFaultsComeAloneAndInOrder) {
    const auto faults = host::read_faults(folder, {"F12xF20", "F07"});
    ASSERT_EQ(faults.size(), 2u);
    EXPECT_EQ(faults[0].id, "F07");
    EXPECT_EQ(faults[1].id, "F12xF20");
}

TEST(Catalogue, VariantsLieOverTheFileAndChangeNothingElse) {
    const host::FaultCase fault = host::fault_of(host::Vehicle::read(folder + "/F30-self-cancel.toml"));
    ASSERT_EQ(fault.variants.size(), 3u);
    EXPECT_EQ(fault.variants[1].name, "free-running");
    EXPECT_EQ(fault.variants[1].scenario.flasher.side_change, host::SideChange::free_running);
    EXPECT_EQ(fault.variants[1].scenario.flasher.rate_per_min.least, 85);
    EXPECT_EQ(fault.variants[1].limits.longest_release_us, 500'000);
    EXPECT_EQ(fault.variants[2].limits.longest_release_us, 860'000);
}

struct Bad {
    const char* name;
    const char* text;
    const char* message; ///< after the file's name
};

class RefusedFault : public testing::TestWithParam<Bad> {};

const std::string rider = "\n[rider]\nscript = [{ show = \"left\", for = \"1s\" }]\n";
const std::string head = "[fault]\nid = \"X\"\ntitle = \"t\"\ngood = \"g (derived)\"\n";

TEST_P(RefusedFault, WithFileLineAndField) {
    const std::string path = testing::TempDir() + "/" + GetParam().name + ".toml";
    std::ofstream(path) << GetParam().text << rider;
    try {
        host::fault_of(host::Vehicle::read(path));
        FAIL() << "not refused";
    } catch (const host::InputError& error) {
        EXPECT_EQ(std::string(error.what()).substr(0, path.size() + std::string(GetParam().message).size()),
                  path + GetParam().message);
    }
}

const std::string misspelt = head + "most_drop = 1\n";
const std::string no_indication = head + "never_show = [\"both\"]\n";
const std::string no_variant_name = head + "[[variant]]\nlines.bounce = \"1ms\"\n";
const std::string bad_variant = head + "[[variant]]\nname = \"v\"\nlines.bunce = \"1ms\"\n";
const std::string bad_limit = head + "[[variant]]\nname = \"v\"\nfault.longest_release = 5\n";
const std::string no_tap = "[lines]\nbroken = [{ tap = \"up\", reads = \"low\" }]\n" + head;
const std::string settings = head + "[decoder]\nhold = \"1s\"\n";
const std::string variant_settings = head + "[[variant]]\nname = \"v\"\ndecoder.hold = \"1s\"\n";
const std::string no_side = head + "only = \"both\"\n";

INSTANTIATE_TEST_SUITE_P(
    Files, RefusedFault,
    testing::Values(
        Bad{"no_section", "", ": no [fault] section"},
        Bad{"no_title", "[fault]\nid = \"X\"\n", ":1: [fault] title: missing"},
        Bad{"misspelt", misspelt.c_str(), ":5: [fault] most_drop: unknown field"},
        Bad{"no_indication", no_indication.c_str(), ":5: [fault] never_show: \"both\" is no indication"},
        Bad{"settings", settings.c_str(), ":5: [decoder] doesn't belong into a fault"},
        Bad{"variant_settings", variant_settings.c_str(), ":7: [decoder] doesn't belong into a fault"},
        Bad{"no_side", no_side.c_str(), ":5: [fault] only: write one of: left, right"},
        Bad{"no_variant_name", no_variant_name.c_str(), ":5: [variant] name: missing"},
        Bad{"bad_variant", bad_variant.c_str(), ":7: [variant.lines] bunce: unknown field"},
        Bad{"bad_limit", bad_limit.c_str(), ":7: [variant.fault] longest_release: the unit is missing"},
        Bad{"no_tap", no_tap.c_str(), ":2: [lines.broken] tap: write one of: left, right"}),
    [](const auto& one) { return one.param.name; });

TEST(Catalogue, UnknownIdsFoldersAndDoubledIdsAreRefused) {
    EXPECT_THROW(host::read_faults(folder, {"F99"}), host::InputError);
    EXPECT_THROW(host::read_faults(folder + "/none", {}), host::InputError);
    const std::string doubled = testing::TempDir() + "/doubled";
    std::filesystem::create_directories(doubled);
    EXPECT_THROW(host::read_faults(doubled, {}), host::InputError) << "empty";
    for (const char* file : {"/a.toml", "/b.toml"})
        std::ofstream(doubled + file) << head << rider;
    EXPECT_THROW(host::read_faults(doubled, {}), host::InputError);
    std::filesystem::remove_all(doubled);
}

TEST(FaultsReport, IsNoWiderThan80ColumnsAndEndsWithTheCaution) {
    core::Settings plain;
    plain.rule = core::HoldRule::fixed;
    plain.handover_us = 0;
    plain.cut_short = false;
    const std::string text =
        host::faults_text(host::run_faults(host::read_faults(folder, {}), {{"Plain", plain}}, 2, 1));
    std::size_t start = 0;
    for (std::size_t end = text.find('\n'); end != std::string::npos; end = text.find('\n', start)) {
        EXPECT_LE(end - start, 80u) << text.substr(start, end - start);
        start = end + 1;
    }
    EXPECT_TRUE(text.ends_with("by someone licensed.\n"));
}

} // namespace
