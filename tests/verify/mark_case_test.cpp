// A mark in a board's log becomes a case that holds.
#include "link/simulated_board.hpp"
#include "program/run.hpp"
#include "winkhold/taps/link/board_log.hpp"
#include "winkhold/taps/verify/case.hpp"

#include <fmt/format.h>

namespace winkhold::testing {
namespace {

using core::Indication;
using core::Lines;

class AMark : public ::testing::Test {
protected:
    AMark() {
        core::Settings stored;
        stored.hold_us = 700'000;
        SimulatedBoard board(0, &stored);
        host::BoardLog log(scratch.path("walk.log"), false);
        const auto mark = [&](const char* note) {
            log.add(board.said());
            log.mark(note, log.now_us());
        };
        board.run(1'000'000, 0);
        board.flash(Lines::left, 150); // 105 s
        board.run(3'000'000, 0);
        board.flash(Lines::right, 3);
        mark("went out \"too\" late");
        board.run(20'000'000, 0);
        mark("");
    }

    Scratch scratch;
};

TEST_F(AMark, BecomesACaseWithTheBoardsSettingsAndTheTapsAroundIt) {
    const std::string folder = scratch.path("case");
    const Ran made =
        scratch.run(fmt::format("verify --from '{}' --mark 1 '{}'", scratch.path("walk.log"), folder));
    EXPECT_EQ(made.exit_code, 0) << made.err;
    EXPECT_EQ(made.out, "");
    const host::VerifyCase read = host::read_case(folder);
    EXPECT_EQ(read.settings.hold_us, 700'000u);
    EXPECT_EQ(read.provenance.reason, "went out 'too' late");
    const host::Trace trace = host::read_all(*host::open_recording(read.recording, {}));
    EXPECT_EQ(trace.end_us, 70'000'000) << "a minute before, ten seconds after";
    ASSERT_TRUE(read.expected);
    EXPECT_EQ(read.expected->back().indication, Indication::off);
    const Ran verified = scratch.run(fmt::format("verify '{}'", folder));
    EXPECT_EQ(verified.exit_code, 0) << verified.out;
}

TEST_F(AMark, WithWhatShouldHaveBeenShownDiffersUntilTheDecoderDoesThat) {
    const std::string folder = scratch.path("case");
    const std::string log = scratch.path("walk.log");
    const Ran made = scratch.run(fmt::format("verify --from '{}' --mark 1 --show off '{}'", log, folder));
    EXPECT_EQ(made.exit_code, 0) << made.err;
    EXPECT_EQ(scratch.run(fmt::format("verify '{}'", folder)).exit_code, 1);
    const host::VerifyCase read = host::read_case(folder);
    for (const host::IndicationChange& change : *read.expected)
        EXPECT_NE(change.indication, Indication::right);
}

TEST_F(AMark, IsRefusedWithWhatToDo) {
    const std::string log = scratch.path("walk.log");
    const std::string fresh = scratch.path("case");
    const auto refused = [&](const std::string& arguments, const std::string& words) {
        const Ran ran = scratch.run(fmt::format("verify {}", arguments));
        EXPECT_EQ(ran.exit_code, 2) << arguments;
        EXPECT_NE(ran.err.find(words), std::string::npos) << ran.err;
    };
    refused(fmt::format("--from '{}' --mark 3 '{}'", log, fresh), "has no mark 3; it has 1 to 2");
    refused(fmt::format("--from data/recordings/lamp-out/recording.csv '{}'", fresh), "holds no mark");
    refused(fmt::format("--from '{}' '{}'", log, scratch.path()), "is there already");
    refused(fmt::format("--from none.log '{}'", fresh), "none.log");
    EXPECT_FALSE(std::filesystem::exists(fresh));
}

} // namespace
} // namespace winkhold::testing
