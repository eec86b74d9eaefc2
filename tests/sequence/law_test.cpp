// Laws of lamps on random rides, patterns and settings.
#include "sweep/random_rides.hpp"
#include "winkhold/bike/lamps/lamp_frames.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace winkhold::testing {
namespace {

using core::Indication;
using core::Job;

struct Case {
    host::Trace trace;
    core::Settings settings;
    host::LampPlan plan;
};

core::Pattern random_pattern(RandomStream& random) {
    const auto step_us = static_cast<core::Span>(random.whole(1, 60'000));
    const auto block = static_cast<std::uint16_t>(random.whole(1, 20));
    core::Pattern pattern = random.whole(0, 3) == 0 ? core::together()
                            : random.whole(0, 2) == 0
                                ? core::fading_in(static_cast<std::uint16_t>(block * 10), step_us)
                                : core::in_blocks(block, step_us);
    if (random.whole(0, 3) == 0)
        pattern = core::ending(pattern, static_cast<core::Span>(random.whole(1, 300'000)),
                               static_cast<core::Span>(random.whole(1, 300'000)));
    return pattern;
}

host::LampPlan random_plan(RandomStream& random) {
    host::LampPlan plan;
    if (random.whole(0, 1) == 0) {
        plan.timing.source = core::FlashSource::own_rate;
        plan.timing.on_us = static_cast<core::Span>(random.whole(1'000, 500'000));
        plan.timing.dark_us = static_cast<core::Span>(random.whole(1'000, 500'000));
    } else if (random.whole(0, 2) == 0) {
        plan.timing.on_prior_us = static_cast<core::Span>(random.whole(50'000, 700'000));
    }
    for (int i = 0; i < 6; ++i) {
        host::LampGroup group;
        group.plays.job = static_cast<Job>(i < 3 ? 0 : random.whole(0, 3));
        group.plays.side = static_cast<Indication>(i == 0 ? 1 : i == 1 ? 2 : random.whole(1, 3));
        group.plays.count = static_cast<std::uint16_t>(random.whole(1, 30));
        if (group.plays.job == Job::turn) group.plays.pattern = random_pattern(random);
        group.plays.full = static_cast<std::uint8_t>(random.whole(1, 255));
        group.plays.dimmed = static_cast<std::uint8_t>(random.whole(0, 255));
        plan.lamps.push_back(group);
    }
    return plan;
}

Case draw(std::uint64_t trial) {
    RandomStream random(31, trial);
    Case one;
    one.settings = random_settings(random);
    one.plan = random_plan(random);
    host::Scenario scenario = random_scenario(random, static_cast<host::SideChange>(random.whole(0, 2)));
    scenario.rider.tail = random.whole(0, 1) == 0;
    for (TimeUs t_us = 0; t_us < 8'000'000;) {
        t_us += random.whole(1, 1'500'000);
        scenario.rider.brake.push_back({t_us, random.whole(1, 900'000)});
        t_us += scenario.rider.brake.back().for_us;
    }
    one.trace = host::RideMaker(scenario).make(32, trial).trace;
    return one;
}

Case draw() {
    return draw(*rc::gen::inRange<std::uint64_t>(0, 1'000'000));
}

void expect_same(const std::vector<host::LampFrame>& a, const std::vector<host::LampFrame>& b,
                 TimeUs later_us = 0) {
    RC_ASSERT(a.size() == b.size());
    for (std::size_t i = 0; i < a.size(); ++i) {
        RC_ASSERT(a[i].t_us + later_us == b[i].t_us);
        RC_ASSERT(a[i].shown == b[i].shown);
        RC_ASSERT(a[i].groups == b[i].groups);
    }
}

RC_GTEST_PROP(LampLaw, ShiftingTimeAndTheClocksWrapShiftTheFramesAndNothingElse, ()) {
    Case one = draw();
    const auto before = host::lamp_frames(one.trace, one.settings, one.plan).frames;
    const TimeUs by_us = *rc::gen::inRange<TimeUs>(0, 10'000'000'000);
    for (auto& edge : one.trace.edges)
        edge.t_us += by_us;
    one.trace.end_us += by_us;
    expect_same(before, host::lamp_frames(one.trace, one.settings, one.plan).frames, by_us);
}

RC_GTEST_PROP(LampLaw, StopLampsShowTheSettledBrakeWhateverTheTurnLampsDo, ()) {
    Case one = draw();
    host::LampGroup stop;
    stop.plays = {Job::stop, Indication::hazard, 18, core::together(), 255, 0};
    one.plan.lamps.push_back(stop);
    core::PlainTaps taps(one.settings);
    std::vector<std::pair<TimeUs, bool>> expected{{0, false}};
    const auto brake = [&](TimeUs t_us, core::Lines settled) {
        const bool on = settled.has(core::Lines::brake);
        if (on != expected.back().second) expected.emplace_back(t_us, on);
    };
    core::Lines lines;
    const auto run_to = [&](TimeUs end_us) {
        while (taps.wake().armed) {
            // nothing in this case lasts over 71 min
            const TimeUs due_us = taps.wake().at.count_us;
            if (due_us >= end_us) return;
            brake(due_us, taps.step(host::to_core(due_us), lines));
        }
    };
    for (const host::Edge& edge : one.trace.edges) {
        run_to(edge.t_us);
        lines = edge.lines;
        brake(edge.t_us, taps.step(host::to_core(edge.t_us), lines));
    }
    run_to(one.trace.end_us + 1);
    std::vector<std::pair<TimeUs, bool>> lit{{0, false}};
    for (const host::LampFrame& frame : host::lamp_frames(one.trace, one.settings, one.plan).frames)
        if (const bool on = frame.groups.back().level == 255; on != lit.back().second)
            lit.emplace_back(frame.t_us, on);
    RC_ASSERT(lit == expected);
}

RC_GTEST_PROP(LampLaw, OnlyTheSideThatIsShownIsSweptAndNothingIsBrighterThanFull, ()) {
    const Case one = draw();
    for (const host::LampFrame& frame : host::lamp_frames(one.trace, one.settings, one.plan).frames)
        for (std::size_t i = 0; i < frame.groups.size(); ++i) {
            const core::LampGroup& plays = one.plan.lamps[i].plays;
            const bool shown = (static_cast<unsigned>(frame.shown) & static_cast<unsigned>(plays.side)) != 0;
            RC_ASSERT(frame.groups[i].lit <= plays.count);
            if (plays.job != Job::turn) continue;
            RC_ASSERT(shown || frame.groups[i].lit == 0);
            RC_ASSERT(frame.groups[i].level <= plays.full);
            RC_ASSERT(frame.groups[i].rest == (shown ? 0 : plays.dimmed));
        }
}

/// Within a flash that follows the line, what is lit stays lit; filling only grows.
RC_GTEST_PROP(LampLaw, WithoutAHoldWhatALitFlashHasLitStaysLitToItsEnd, ()) {
    Case one = draw();
    for (host::LampGroup& group : one.plan.lamps)
        group.plays.pattern.stay_us = 0;
    one.plan.timing = {};
    const auto frames = host::lamp_frames(one.trace, one.settings, one.plan).frames;
    for (std::size_t i = 1; i < frames.size(); ++i)
        for (std::size_t g = 0; g < 2; ++g) {
            const core::GroupFrame was = frames[i - 1].groups[g];
            const core::GroupFrame now = frames[i].groups[g];
            if (now.lit == 0) continue;
            RC_ASSERT(now.lit >= was.lit);
            RC_ASSERT(now.level >= was.level);
        }
}

/// On a flasher without jitter every lamp of every pattern lights in every flash from the second one on.
RC_GTEST_PROP(LampLaw, FromTheSecondFlashOnEveryLampLightsHoweverShortTheFlashes, ()) {
    RandomStream random(33, *rc::gen::inRange<std::uint64_t>(0, 1'000'000));
    host::Scenario scenario;
    const auto rate = static_cast<double>(random.whole(60, 276));
    scenario.flasher.rate_per_min = rate;
    scenario.flasher.duty_percent = static_cast<double>(random.whole(35, 65));
    scenario.flasher.jitter_percent = 0;
    scenario.rider.script = {{Indication::left, true, {8, 8}, {}}, {Indication::off, false, {}, {1e6, 1e6}}};
    host::LampPlan plan;
    host::LampGroup group;
    group.plays.count = static_cast<std::uint16_t>(random.whole(1, 60));
    group.plays.pattern = core::in_blocks(static_cast<std::uint16_t>(random.whole(1, 4)),
                                          static_cast<core::Span>(random.whole(5'000, 60'000)));
    plan.lamps.push_back(group);
    const auto played = host::lamp_frames(host::RideMaker(scenario).make(1, 0).trace, core::Settings{}, plan);
    RC_ASSERT(played.fills.size() >= 8u);
    for (std::size_t i = 1; i + 1 < played.fills.size(); ++i) {
        RC_ASSERT(played.fills[i].full());
        RC_ASSERT(played.fills[i].reached == group.plays.count);
    }
}

/// Steps every so often, whatever happens.
std::vector<host::LampFrame> poll(const Case& one, TimeUs every_us, std::uint32_t start_us) {
    const auto groups = one.plan.groups();
    core::Board board(one.settings, one.plan.timing, groups.data(), static_cast<std::uint8_t>(groups.size()));
    std::vector<host::LampFrame> frames;
    core::Lines lines;
    std::size_t next = 0;
    for (TimeUs t_us = one.trace.edges.front().t_us; t_us <= one.trace.end_us; t_us += every_us) {
        while (next < one.trace.edges.size() && one.trace.edges[next].t_us == t_us)
            lines = one.trace.edges[next++].lines;
        const bool moved = board.step({start_us + static_cast<std::uint32_t>(t_us)}, lines);
        host::LampFrame frame{t_us, board.decoder().indication(), {}};
        for (std::size_t i = 0; i < groups.size(); ++i)
            frame.groups.push_back(board.sequence().frame(static_cast<std::uint8_t>(i)));
        if (!frames.empty() && frames.back().groups == frame.groups && frames.back().shown == frame.shown)
            continue;
        EXPECT_TRUE(moved || frames.empty()) << "a frame changed and step() did not say so, at " << t_us;
        frames.push_back(frame);
    }
    return frames;
}

TEST(LampPolling, EveryMicrosecondEqualsStepsAtEdgesAndWakesOn40TracesAlsoAcrossTheWrap) {
    for (std::uint64_t trial = 0; trial < 40; ++trial) {
        Case one = draw(trial);
        one.trace.end_us = std::min<TimeUs>(one.trace.end_us, 2'500'000);
        while (one.trace.edges.back().t_us > one.trace.end_us)
            one.trace.edges.pop_back();
        const std::uint32_t start_us = trial % 2 == 0 ? 0u : 0u - 1'000'000u;
        const auto polled = poll(one, 1, start_us);
        const auto stepped = host::lamp_frames(one.trace, one.settings, one.plan).frames;
        ASSERT_EQ(polled.size(), stepped.size()) << "trial " << trial;
        for (std::size_t i = 0; i < polled.size(); ++i) {
            ASSERT_EQ(polled[i].t_us, stepped[i].t_us) << "trial " << trial;
            ASSERT_TRUE(polled[i].groups == stepped[i].groups) << "trial " << trial;
        }
    }
}

} // namespace
} // namespace winkhold::testing
