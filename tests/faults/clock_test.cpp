// Clocks that are not perfect.
#include "winkhold/measure/faults/listen.hpp"
#include "winkhold/measure/waveform/clock.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using core::Indication;
using host::ClockModel;
using host::Heard;

/// Left flashes from 1 s to 4 s, 500 ms lit and 500 ms dark.
host::Trace flashes() {
    host::Trace trace{{{0, core::Lines{}}}, 6'000'000};
    for (host::TimeUs t_us = 1'000'000; t_us < 4'000'000; t_us += 1'000'000) {
        trace.edges.push_back({t_us, core::Lines{core::Lines::left}});
        trace.edges.push_back({t_us + 500'000, core::Lines{}});
    }
    return trace;
}

core::Settings fixed(std::uint32_t hold_us) {
    core::Settings settings;
    settings.rule = core::HoldRule::fixed;
    settings.hold_us = hold_us;
    settings.cut_short = false;
    return settings;
}

Heard hear(const ClockModel& clock, const core::Settings& settings = fixed(600'000)) {
    host::RandomStream random(1, 0);
    return host::listen(flashes(), settings, clock, random);
}

TEST(Clock, APerfectOneIsTheReplay) {
    EXPECT_EQ(hear({}).timeline, host::decode(flashes(), fixed(600'000)));
    EXPECT_EQ(hear({}, core::Settings{}).timeline, host::decode(flashes(), core::Settings{}));
}

TEST(Clock, AWrapChangesNothing) {
    ClockModel clock;
    clock.wraps = true;
    for (const double before_us : {10.0, 500.0, 5'000.0, 1'503'000.0, 3'999'999.0}) {
        clock.before_wrap_us = before_us;
        EXPECT_EQ(hear(clock).timeline, hear({}).timeline) << before_us;
    }
}

TEST(Clock, AFastOneEndsHoldsSooner) {
    ClockModel clock;
    clock.fast_percent = 10;
    const host::Timeline timeline = hear(clock).timeline;
    ASSERT_EQ(timeline.size(), 3u);
    EXPECT_NEAR(static_cast<double>(timeline[1].t_us), 1'000'000 + 5'000 / 1.1, 2);
    EXPECT_NEAR(static_cast<double>(timeline[2].t_us), 3'500'000 + 600'000 / 1.1, 2);
    clock.fast_percent = 25; // 600 ms on it are 480 ms: every dark phase drops out
    EXPECT_EQ(hear(clock).timeline.size(), 7u);
}

TEST(Clock, ATickOfAMillisecondErrsByOneAtMost) {
    ClockModel clock;
    clock.tick_us = 1'000;
    host::Trace trace = flashes();
    for (host::Edge& edge : trace.edges)
        edge.t_us += edge.t_us > 0 ? 700 : 0;
    host::RandomStream random(1, 0);
    const host::Timeline coarse = host::listen(trace, fixed(600'000), clock, random).timeline;
    const host::Timeline exact = host::decode(trace, fixed(600'000));
    ASSERT_EQ(coarse.size(), exact.size());
    for (std::size_t i = 0; i < exact.size(); ++i)
        EXPECT_NEAR(static_cast<double>(coarse[i].t_us), static_cast<double>(exact[i].t_us), 1'000);
}

TEST(Clock, ReadingErrorsMoveTheAnswerByNoMoreThanThemselves) {
    ClockModel clock;
    clock.tick_us = 1'000;
    clock.error_us = {-2'000, 2'000};
    const host::Timeline rough = hear(clock).timeline;
    const host::Timeline exact = hear({}).timeline;
    ASSERT_EQ(rough.size(), exact.size());
    for (std::size_t i = 0; i < exact.size(); ++i)
        EXPECT_NEAR(static_cast<double>(rough[i].t_us), static_cast<double>(exact[i].t_us), 6'000);
}

TEST(Clock, AnEarlyWakeIsFollowedByOneInTime) {
    ClockModel clock;
    clock.wakes_early_us = 1'700;
    EXPECT_EQ(hear(clock).timeline, hear({}).timeline);
}

TEST(Clock, AResetIsDarkAndStartsAfresh) {
    ClockModel clock;
    clock.reset_at_us = 2'700'000; // in the dark
    const host::Timeline expected{{0, Indication::off},
                                  {1'005'000, Indication::left},
                                  {2'700'000, Indication::off},
                                  {3'005'000, Indication::left},
                                  {4'100'000, Indication::off}};
    EXPECT_EQ(hear(clock).timeline, expected);
    clock.reset_at_us = 2'200'000; // lit
    EXPECT_EQ(hear(clock).timeline[3], (host::IndicationChange{2'205'000, Indication::left}));
}

TEST(Clock, FlagsAreHeardOnEitherLine) {
    host::Trace trace{{{0, core::Lines{core::Lines::right}}}, 4'000'000};
    host::RandomStream random(1, 0);
    EXPECT_NE(host::listen(trace, core::Settings{}, {}, random).flags & core::stuck_on, 0u);
}

} // namespace
