// Lamps played on traces whose moments are known.
#include "temp.hpp"
#include "winkhold/base/error.hpp"
#include "winkhold/bike/lamps/lamp_frames.hpp"

#include <filesystem>
#include <fstream>
#include <gtest/gtest.h>
#include <unistd.h>

namespace winkhold::testing {
namespace {

using core::Indication;
using core::Job;
using host::TimeUs;

host::LampGroup lamps(Job job, Indication side, std::uint16_t count,
                      core::Pattern pattern = core::together()) {
    host::LampGroup group;
    group.plays = {job, side, count, pattern, 255, 0};
    return group;
}

/// So many flashes of the left line from 1 s on, `on_us` lit and `dark_us` dark.
host::Trace flashes(int count, TimeUs on_us, TimeUs dark_us) {
    host::Trace trace;
    trace.edges.push_back({0, core::Lines{}});
    TimeUs t_us = 1'000'000;
    for (int i = 0; i < count; ++i) {
        trace.edges.push_back({t_us, core::Lines(core::Lines::left)});
        trace.edges.push_back({t_us + on_us, core::Lines{}});
        t_us += on_us + dark_us;
    }
    trace.end_us = t_us + 2'000'000;
    return trace;
}

host::LampPlan six_outward() {
    host::LampPlan plan;
    plan.lamps = {lamps(Job::turn, Indication::left, 6, core::outward(30'000))};
    return plan;
}

TEST(LampFrames, BeginASettleAfterTheLineAndFillLampByLamp) {
    const host::LampFrames played =
        host::lamp_frames(flashes(1, 353'000, 353'000), core::Settings{}, six_outward());
    std::vector<std::pair<TimeUs, int>> lit;
    for (const host::LampFrame& frame : played.frames)
        lit.emplace_back(frame.t_us, frame.groups[0].lit);
    const std::vector<std::pair<TimeUs, int>> expected{
        {0, 0},         {1'005'000, 1}, {1'035'000, 2}, {1'065'000, 3}, {1'095'000, 4},
        {1'125'000, 5}, {1'155'000, 6}, {1'358'000, 0}, {2'353'000, 0}}; // the last one: the hold of 1 s
                                                                         // ends, the side is let go
    EXPECT_EQ(lit, expected);
}

// Three-stage arrows that lost their third stage at the doubled rate: NHTSA letters nht90-116 and nht90-191
// (read). With 128 ms lit, six lamps 30 ms apart would show five.
TEST(LampFrames, AtTheLampOutRateOnlyTheFirstFlashLosesItsLastLamp) {
    const host::LampFrames played =
        host::lamp_frames(flashes(5, 128'000, 150'000), core::Settings{}, six_outward());
    ASSERT_EQ(played.fills.size(), 5u);
    EXPECT_EQ(played.fills[0].reached, 5);
    EXPECT_FALSE(played.fills[0].full());
    EXPECT_FALSE(played.fills[0].may_be_cut) << "another flash follows: nobody cancelled";
    for (std::size_t i = 1; i < 5; ++i) {
        EXPECT_EQ(played.fills[i].reached, 6) << i;
        EXPECT_EQ(played.fills[i].full_us - played.fills[i].start_us, 5 * 18'666)
            << "a sixth of seven eighths of 128 ms";
    }
    EXPECT_TRUE(played.fills[4].may_be_cut);
}

TEST(LampFrames, ThreeStagesAtTheDoubledRateAllLight) {
    host::LampPlan plan;
    plan.lamps = {lamps(Job::turn, Indication::left, 3, core::outward(65'000))};
    const host::LampFrames played = host::lamp_frames(flashes(4, 125'000, 125'000), core::Settings{}, plan);
    ASSERT_EQ(played.fills.size(), 4u);
    EXPECT_EQ(played.fills[0].reached, 2);
    EXPECT_EQ(played.fills[1].reached, 3);
    EXPECT_EQ(played.fills[2].reached, 3);
}

TEST(LampFrames, AMeasuredOnTimeSavesTheFirstFlashToo) {
    host::LampPlan plan = six_outward();
    plan.timing.on_prior_us = 128'000;
    for (const host::LampFill& fill :
         host::lamp_frames(flashes(3, 128'000, 150'000), core::Settings{}, plan).fills)
        EXPECT_TRUE(fill.full());
}

TEST(LampFrames, ACancelInMidFillMayHaveCutItAndIsNoFindingAboutTheLamps) {
    host::Trace trace = flashes(2, 300'000, 300'000);
    trace.edges.back().t_us = trace.edges[3].t_us + 70'000; // the second flash ends after 70 ms
    const host::LampFrames played = host::lamp_frames(trace, core::Settings{}, six_outward());
    ASSERT_EQ(played.fills.size(), 2u);
    EXPECT_EQ(played.fills[1].reached, 3);
    EXPECT_TRUE(played.fills[1].may_be_cut);
}

TEST(LampFrames, TurnsBeginAnewOnASideChangeAndNeverShowBothSides) {
    host::LampPlan plan = six_outward();
    plan.lamps.push_back(lamps(Job::turn, Indication::right, 6, core::outward(30'000)));
    host::Trace trace = flashes(3, 300'000, 300'000);
    const TimeUs change_us = trace.edges.back().t_us + 20'000;
    trace.edges.push_back({change_us, core::Lines(core::Lines::right)});
    trace.edges.push_back({change_us + 300'000, core::Lines{}});
    trace.end_us = change_us + 3'000'000;
    bool right_seen = false;
    for (const host::LampFrame& frame : host::lamp_frames(trace, core::Settings{}, plan).frames) {
        EXPECT_FALSE(frame.groups[0].lit > 0 && frame.groups[1].lit > 0) << frame.t_us;
        if (frame.groups[1].lit == 0) continue;
        if (!right_seen) {
            // settle, and the blink that a newcomer has to stand
            EXPECT_EQ(frame.t_us, change_us + 5'000 + TimeUs{core::built_in::blink_us});
            EXPECT_EQ(frame.groups[1].lit, 1);
        }
        right_seen = true;
    }
    EXPECT_TRUE(right_seen);
}

TEST(LampPlan, TheDemoVehicleHasTheLampsThatItsCommentsPromise) {
    const host::LampPlan plan = host::lamp_plan_of(host::Vehicle::demo());
    EXPECT_EQ(plan.timing.source, core::FlashSource::following);
    int turn = 0, stop = 0, marker = 0;
    for (const host::LampGroup& group : plan.lamps) {
        const core::LampGroup& plays = group.plays;
        (plays.job == Job::turn ? turn : plays.job == Job::stop ? stop : marker) += plays.count;
        EXPECT_TRUE(group.led_v && group.led_ma && group.in_series && group.awg && group.length_m)
            << group.name;
    }
    EXPECT_EQ(turn, 24);
    EXPECT_EQ(stop, 18);
    EXPECT_EQ(marker, 10);
}

TEST(Lamps, ALaterFilesListReplacesAnEarlierOnesWhole) {
    const TempFolder folder;
    const std::string group = "[[lamps]]\njob = \"turn\"\nside = \"left\"\ncount = 3\n";
    folder.write("base.toml", group + "name = \"a\"\n" + group +
                                  "name = \"b\"\n[sequence]\nclock = \"own-rate\"\nrate_per_min = 60\n");
    folder.write("over.toml", "[vehicle]\nfile = \"base.toml\"\n[sequence]\nrate_per_min = 90\n" + group +
                                  "name = \"c\"\n");
    const host::LampPlan plan = host::lamp_plan_of(host::Vehicle::read(folder.path("over.toml")));
    ASSERT_EQ(plan.lamps.size(), 1u);
    EXPECT_EQ(plan.lamps[0].name, "c");
    EXPECT_EQ(plan.timing.on_us, 333'333u) << "half of 666,667 us";
    EXPECT_EQ(plan.timing.dark_us, 333'334u);
}

} // namespace
} // namespace winkhold::testing
