// Packs as their users have them: built by avr-g++ alone in a folder of their own, their self-test run in
// simavr.
#include "pack/bikes.hpp"
#include "program/run.hpp"

#include <filesystem>
#include <gtest/gtest.h>

namespace winkhold::testing {
namespace {

struct Packed {
    std::string name;
    std::string vehicle; ///< its text; empty: the demo's
};

void PrintTo(const Packed& packed, std::ostream* out) {
    *out << packed.name;
}

class PackedBoard : public ::testing::TestWithParam<Packed> {
protected:
    void pack(const std::string& options = "") {
        const std::string& text = GetParam().vehicle;
        const std::string vehicle =
            text.empty() ? WINKHOLD_SOURCE "/data/vehicles/demo.toml" : scratch.write("bike.toml", text);
        const Ran ran = scratch.run("pack " + options + vehicle + " " + scratch.path("board"));
        ASSERT_EQ(ran.exit_code, 0) << ran.err;
    }
    /// In the pack's folder, with nothing of ours in the environment.
    int shell(const std::string& command) const {
        return std::system(fmt::format("cd '{}' && env -i PATH=/usr/bin:/bin sh -c '{}' > ../log 2>&1",
                                       scratch.path("board"), command)
                               .c_str());
    }
    void replace_in(const std::string& file, const std::string& from, const std::string& to) const {
        std::string text = scratch.read("board/" + file);
        const std::size_t at = text.find(from);
        ASSERT_NE(at, std::string::npos) << from;
        scratch.write("board/" + file, text.replace(at, from.size(), to));
    }

    Scratch scratch;
};

TEST_P(PackedBoard, BuildsByItselfAndPassesItsSelfTest) {
    pack();
    EXPECT_EQ(shell("make"), 0) << scratch.read("log");
    EXPECT_GT(std::filesystem::file_size(scratch.path("board/board.hex")), 10'000u);
    EXPECT_EQ(shell("make check selftest.hex"), 0) << scratch.read("log");
    EXPECT_NE(scratch.read("log").find("self-test passed: "), std::string::npos);
}

TEST_P(PackedBoard, FailsItsSelfTestWithAnotherSetting) {
    pack();
    replace_in("bike.hpp", "s.settle_us = ", "s.settle_us = 1_ms + ");
    EXPECT_NE(shell("make check"), 0);
    EXPECT_NE(scratch.read("log").find("self-test FAILED at change "), std::string::npos)
        << scratch.read("log");
}

TEST_P(PackedBoard, FailsItsSelfTestWithALampOnAnotherOutput) {
    pack();
    const bool has_runs = scratch.read("board/bike.hpp").find("    {0, 0, 0, 0},\n") == std::string::npos;
    replace_in("bike.hpp", has_runs ? "register_runs[] = {\n    {0," : "pin_lamps[] = {\n    {0,",
               has_runs ? "register_runs[] = {\n    {1," : "pin_lamps[] = {\n    {1,");
    EXPECT_NE(shell("make check"), 0);
    EXPECT_NE(scratch.read("log").find("self-test FAILED at change "), std::string::npos)
        << scratch.read("log");
}

TEST_P(PackedBoard, HeadersAloneMakeAFirmwareOfOnesOwn) {
    pack("--headers ");
    EXPECT_FALSE(std::filesystem::exists(scratch.path("board/main.cpp")));
    // as its README says
    EXPECT_EQ(shell("avr-g++ -std=c++14 -mmcu=atmega328p -Os -I. own_firmware.cpp -o own_firmware.elf"), 0)
        << scratch.read("log");
    EXPECT_NE(scratch.read("board/README.md")
                  .find("\navr-g++ -std=c++14 -mmcu=atmega328p -Os -I. "
                        "own_firmware.cpp -o own_firmware.elf\n"),
              std::string::npos);
}

INSTANTIATE_TEST_SUITE_P(Of, PackedBoard,
                         ::testing::Values(Packed{"the_demo", ""}, Packed{"a_bare_bike", bare_bike},
                                           Packed{"a_register_bike", register_bike},
                                           Packed{"a_schmitt_bike", schmitt_bike}),
                         [](const auto& tried) { return tried.param.name; });

// The firmware's own bike.hpp is the demo's: all but the hash, which changes with each word in its file.
TEST(PackedDemo, HasTheValuesThatTheFirmwareIsTriedWith) {
    const Scratch scratch;
    ASSERT_EQ(scratch.run("pack data/vehicles/demo.toml " + scratch.path("board")).exit_code, 0);
    scratch.write("values.cpp", R"(#include "bike.hpp"
#define SHOW(name) extern const decltype(winkhold::bike::name)& name##_shown; \
    const decltype(winkhold::bike::name)& name##_shown = winkhold::bike::name;
SHOW(settings) SHOW(timing) SHOW(groups) SHOW(taps) SHOW(registers) SHOW(register_runs) SHOW(pin_lamps)
SHOW(park_after_s)
)");
    const auto values = [&](const std::string& folder) {
        const std::string command = fmt::format(
            "cd '{}' && avr-g++ -O1 -std=c++14 -mmcu=atmega328p -I'{}' -I" WINKHOLD_SOURCE
            "/lib/core -c values.cpp -o values.o 2> log && avr-objcopy -O binary -j .rodata values.o values",
            scratch.path(), folder);
        EXPECT_EQ(std::system(command.c_str()), 0) << scratch.read("log");
        return scratch.read("values");
    };
    const std::string packed = values(scratch.path("board"));
    EXPECT_GT(packed.size(), 150u);
    EXPECT_EQ(packed, values(WINKHOLD_SOURCE "/apps/firmware/board"));
}

} // namespace
} // namespace winkhold::testing
