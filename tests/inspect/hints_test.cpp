// What `decode` says beside its answer.
#include "support.hpp"

#include "winkhold/taps/inspect/hints.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::test;

std::string hints_for(const Changes& left, const Changes& right, core::Settings settings = {}) {
    std::string text;
    for (const std::string& hint : host::hints_of(inspected(left, right, 20'000'000), settings))
        text += hint + "\n";
    return text;
}

bool has(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

Changes left_side() {
    return flashing(1'000'000, {{300'000, 411'000}}, 8);
}
Changes right_side() {
    return flashing(9'000'000, {{300'000, 411'000}}, 8);
}

TEST(Hints, NoneIfAllIsWell) {
    EXPECT_EQ(hints_for(left_side(), right_side()), "");
}

TEST(Hints, LinesThatRestHighAskForActiveLow) {
    const std::string hints = hints_for(inverted(left_side()), inverted(right_side()));
    EXPECT_TRUE(has(hints, "Both lines rest high")) << hints;
    EXPECT_TRUE(has(hints, "--active low"));
    EXPECT_FALSE(has(hints, "hold")) << "its gaps are lights";
}

TEST(Hints, AHoldShorterThanTheDarkGapFlickers) {
    for (const auto& [hold_us, flickers] : {std::pair{410'999, true}, {411'000, false}}) {
        core::Settings settings;
        settings.hold_us = static_cast<core::Span>(hold_us);
        const std::string hints = hints_for(left_side(), right_side(), settings);
        EXPECT_EQ(has(hints, "shorter than the left line's dark gap of 411 ms: the answer flickers"),
                  flickers)
            << hints;
    }
}

TEST(Hints, ASideThatNeverLightsLeavesHazardsOpen) {
    EXPECT_TRUE(has(hints_for(left_side(), {}), "a hazard can't be told from a left turn"));
    EXPECT_TRUE(has(hints_for({}, right_side()), "a hazard can't be told from a right turn"));
    EXPECT_TRUE(has(hints_for({}, {}), "Neither line ever lights"));
}

// 6 ms pauses: a gap of 6 ms is too short for them, 7 ms is enough.
TEST(Hints, AChoppedLightAsksForAPwmGap) {
    const Changes left = chopped(left_side(), 8'000, 2'000);
    for (const int gap_us : {6'000, 7'000}) {
        core::Settings settings;
        settings.pwm_gap_us = static_cast<core::Span>(gap_us);
        EXPECT_EQ(has(hints_for(left, right_side(), settings), "give --pwm-gap 10ms"), gap_us == 6'000);
    }
}

TEST(Hints, ASettleLongerThanTheLightsHidesThem) {
    core::Settings settings;
    settings.settle_us = 350'000;
    EXPECT_TRUE(has(hints_for(left_side(), right_side(), settings), "it hides the lights"));
}

// 1 us beyond the hour a burst of noise is not looked at.
TEST(Hints, OnlyTheFirstHourIsLookedAt) {
    for (const TimeUs begin_us : {TimeUs{1'000'000}, TimeUs{3'600'000'001}}) {
        host::Trace trace{.edges = {{0, {}}}, .end_us = 0};
        const auto put = [&](const Changes& changes, core::Lines::Tap tap) {
            for (const Change& change : changes)
                trace.edges.push_back({change.t_us, core::Lines{}.with(tap, change.high)});
        };
        put(flashing(begin_us, {{300'000, 400'000}}, 8), core::Lines::left);
        trace.end_us = trace.edges.back().t_us + 2'000'000;
        host::TraceSource all(trace);
        host::InspectedSource source(all);
        host::Edge edge;
        std::size_t edges = 0;
        while (source.next(edge))
            ++edges;
        EXPECT_EQ(edges, trace.edges.size());
        EXPECT_EQ(source.end_us(), trace.end_us);
        const auto hints = source.hints({});
        ASSERT_EQ(hints.size(), 1u);
        EXPECT_EQ(has(hints[0], "Neither line"), begin_us > 3'600'000'000) << hints[0];
    }
}

} // namespace
