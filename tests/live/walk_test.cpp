// The walk around the bike: what is asked for, what is timed, and what comes into the vehicle file.
#include "live/bench.hpp"
#include "temp.hpp"
#include "winkhold/base/error.hpp"
#include "winkhold/bike/checklist/measured.hpp"
#include "winkhold/live/session/walk.hpp"

#include <gtest/gtest.h>

namespace winkhold::testing {
namespace {

using core::Lines;

class AWalk : public ::testing::Test {
protected:
    bool asks(std::string_view words) const { return walk.asks().find(words) != std::string_view::npos; }
    const host::WalkFinding* found(std::string_view what) const {
        for (const host::WalkFinding& one : walk.findings())
            if (one.what == what) return &one;
        return nullptr;
    }

    Bench bench;
    host::Walk walk{bench.session};
};

TEST_F(AWalk, GoesThroughAllFunctionsAndTimesWhatTheBoardAnswers) {
    const std::uint8_t key = Lines::supply;
    bench.run(1'000'000, key);
    EXPECT_TRUE(asks("turn left on"));
    const auto flash = [&](std::uint8_t taps, int times) {
        for (int i = 0; i < times; ++i) {
            bench.run(350'000, static_cast<std::uint8_t>(taps | key));
            bench.run(350'000, key);
        }
    };
    flash(Lines::right, 14);
    EXPECT_TRUE(walk.question().empty()) << "not what was asked for";
    bench.run(2'000'000, key);
    flash(Lines::left, 12);
    EXPECT_FALSE(walk.question().empty());
    walk.yes();
    ASSERT_TRUE(found("left-rate-per-min"));
    EXPECT_NEAR(*found("left-rate-per-min")->value, 85.7, 0.1);
    ASSERT_TRUE(found("left-lamps"));
    EXPECT_EQ(found("left-lamps")->done, true);
    bench.run(2'000'000, key);
    flash(Lines::right, 13);
    walk.no();
    EXPECT_EQ(found("right-lamps")->done, false);
    bench.run(2'000'000, key);
    EXPECT_TRUE(asks("hazard"));
    flash(Lines::left | Lines::right, 13);
    walk.yes();
    bench.run(2'000'000, key);
    EXPECT_TRUE(asks("then hazard on and off"));
    flash(Lines::left, 5);
    flash(Lines::left | Lines::right, 5);
    flash(Lines::left, 5);
    EXPECT_FALSE(walk.question().empty());
    walk.yes();
    ASSERT_TRUE(found("hazard-in-turn"));
    EXPECT_NE(found("hazard-in-turn")->note.find("hazard "), std::string::npos);
    EXPECT_TRUE(asks("brake"));
    flash(Lines::left, 2);
    flash(Lines::left | Lines::brake, 1);
    walk.yes();
    ASSERT_TRUE(found("stop-lamps"));
    EXPECT_TRUE(asks("Lights on"));
    flash(Lines::tail, 1);
    walk.yes();
    EXPECT_TRUE(asks("Key off"));
    flash(Lines::left, 3);
    bench.run(2'000'000, 0);
    EXPECT_FALSE(walk.question().empty());
    walk.yes();
    ASSERT_TRUE(found("key-off"));
    EXPECT_NE(found("key-off")->note.find("after the supply fell"), std::string::npos);
    EXPECT_TRUE(asks("wet"));
    for (int i = 0; i < 130 && !walk.is_done(); ++i) {
        bench.run(100'000, key);
        walk.passed();
    }
    EXPECT_TRUE(walk.is_done());
    walk.skip();
    walk.yes();
    EXPECT_TRUE(walk.is_done());
}

TEST_F(AWalk, WhatIsSkippedIsNotWritten) {
    bench.run(1'000'000, 0);
    while (!walk.is_done())
        walk.skip();
    EXPECT_TRUE(walk.findings().empty());
}

TEST(WriteMeasured, AddsWhatIsNewAndLeavesAllElse) {
    const TempFolder folder;
    const std::string before = "# mine\n[[measured]]\nwhat = \"left-lamps\"\ndone = false\n[decoder]\nhold = "
                               "\"900ms\" # no newline";
    const std::string path = folder.write("bike.toml", before);
    const std::vector<host::WalkFinding> findings{{"left-lamps", {}, true, "seen"},
                                                  {"left-rate-per-min", 85.714, {}, "board: on 350.0 ms"}};
    EXPECT_NE(host::write_measured(path, findings, "2026-11-28"), "");
    EXPECT_TRUE(folder.read("bike.toml").starts_with(before + "\n"));
    const auto measured = host::measurements_of(host::Vehicle::read(path));
    ASSERT_EQ(measured.size(), 2u);
    EXPECT_EQ(measured[0].done, false) << "what stood there stays";
    EXPECT_EQ(measured[1].value, 85.7);
    EXPECT_EQ(measured[1].on, "2026-11-28");
    EXPECT_EQ(host::write_measured(path, findings, "2026-11-28"), "") << "the second time nothing is new";
    folder.write("broken.toml", "[[measured]\n");
    EXPECT_THROW(host::write_measured(folder.path("broken.toml"), findings, ""), host::InputError);
}

} // namespace
} // namespace winkhold::testing
