// Small recordings whose answer is plain to see.
#include "hindsight/support.hpp"

#include "winkhold/measure/waveform/random.hpp"

namespace winkhold::testing {
namespace {

const core::Settings defaults{};

host::Timeline answer(const TraceWriter& writer) {
    return host::smooth(writer.trace(), defaults).timeline;
}

std::vector<host::Disagreeing> compare(const host::Trace& trace, const core::Settings& settings) {
    const host::Smoothed smoothed = host::smooth(trace, settings);
    return host::disagreements(host::decode(trace, settings), smoothed.timeline,
                               host::allowance(smoothed, settings), trace.end_us);
}

TEST(Recording, EmptyAndSilentAreOff) {
    const host::Timeline off{{0, Indication::off}};
    EXPECT_EQ(host::smooth({}, defaults).timeline, off);
    EXPECT_EQ(host::smooth({}, defaults).confidence, std::vector<double>{1});
    EXPECT_EQ(answer(TraceWriter().level(0, 5'000'000)), off);
    EXPECT_TRUE(compare({}, defaults).empty());
    EXPECT_TRUE(compare(TraceWriter().level(0, 5'000'000).trace(), defaults).empty());
}

TEST(Recording, OneEdgeLightsToTheEnd) {
    TraceWriter writer;
    writer.level(0, 1'000'000).level(2, 400'000);
    EXPECT_EQ(answer(writer), (host::Timeline{{0, Indication::off}, {1'000'000, Indication::right}}));
    EXPECT_TRUE(compare(writer.trace(), defaults).empty());
    EXPECT_EQ(answer(TraceWriter().level(1, 400'000)), (host::Timeline{{0, Indication::left}}))
        << "lit from the start";
}

TEST(Recording, OneLightEndsWithItself) {
    EXPECT_EQ(
        answer(TraceWriter().level(0, 1'000'000).level(1, 300'000).level(0, 3'000'000)),
        (host::Timeline{{0, Indication::off}, {1'000'000, Indication::left}, {1'300'000, Indication::off}}));
}

TEST(Recording, StartsBeforeItsFirstRowAndEndsInADarkPhase) {
    TraceWriter writer;
    writer.level(1, 120'000).level(0, 350'000).flashes(1, 5, 350'000, 350'000);
    writer.level(1, 350'000).level(0, 200'000); // still dark when the recording ends
    EXPECT_EQ(answer(writer), (host::Timeline{{0, Indication::left}}));
}

TEST(Recording, AnswerEndsWithTheLastLightWhereverTheCancelWas) {
    TraceWriter writer;
    writer.level(0, 500'000).flashes(1, 6, 350'000, 350'000);
    const TimeUs last_light_us = writer.now_us() - 350'000;
    writer.level(0, 3'000'000);
    EXPECT_EQ(answer(writer),
              (host::Timeline{
                  {0, Indication::off}, {500'000, Indication::left}, {last_light_us, Indication::off}}));
}

TEST(Recording, ASideChangeWithinADarkPhaseIsNoHazard) {
    TraceWriter writer;
    writer.flashes(1, 6, 350'000, 350'000);
    const TimeUs left_until_us = writer.now_us() - 350'000;
    host::Trace trace = writer.trace();
    trace.end_us -= 250'000; // right comes 100 ms into the dark phase
    const TimeUs right_from_us = trace.end_us;
    for (int i = 0; i < 6; ++i) {
        trace.edges.push_back({trace.end_us, core::Lines(2)});
        trace.edges.push_back({trace.end_us += 350'000, core::Lines(0)});
        trace.end_us += 350'000;
    }
    trace.end_us += 2'000'000;
    const host::Smoothed smoothed = host::smooth(trace, defaults);
    ASSERT_EQ(smoothed.timeline.size(), 4u);
    EXPECT_EQ(smoothed.timeline[1], (host::IndicationChange{left_until_us, Indication::off}));
    EXPECT_EQ(smoothed.timeline[2], (host::IndicationChange{right_from_us, Indication::right}));
    for (const double sure : smoothed.confidence)
        EXPECT_GT(sure, 0.99);
}

TEST(Recording, AFlickToTheOtherSideIsNoHazard) {
    // right for a moment that would fit into a dark phase of the left side
    TraceWriter writer;
    writer.level(1, 350'000).level(0, 30'000).level(2, 140'000).level(0, 30'000);
    writer.flashes(1, 5, 350'000, 350'000);
    const TimeUs end_us = writer.now_us() - 350'000;
    writer.level(0, 2'000'000);
    EXPECT_EQ(answer(writer), (host::Timeline{{0, Indication::left},
                                              {350'000, Indication::off},
                                              {380'000, Indication::right},
                                              {520'000, Indication::off},
                                              {550'000, Indication::left},
                                              {end_us, Indication::off}}));
}

TEST(Recording, ATipOfThreeFlashesMayBeHeldAsLongAsTheHoldAndNoLonger) {
    TraceWriter writer;
    writer.level(0, 500'000).flashes(1, 3, 350'000, 350'000).level(0, 3'000'000);
    EXPECT_TRUE(compare(writer.trace(), defaults).empty());
    EXPECT_EQ(host::smooth(writer.trace(), defaults).known_from_us, host::never_us);
    const host::Smoothed smoothed = host::smooth(writer.trace(), defaults);
    const TimeUs last_light_us = 500'000 + 2 * 700'000 + 350'000;
    const TimeUs allowed_us = last_light_us + defaults.hold_us + defaults.settle_us;
    const auto held_until = [&](TimeUs until_us) {
        return host::disagreements(
            {{0, Indication::off}, {505'000, Indication::left}, {until_us, Indication::off}},
            smoothed.timeline, host::allowance(smoothed, defaults), writer.trace().end_us);
    };
    EXPECT_TRUE(held_until(allowed_us).empty());
    EXPECT_EQ(held_until(allowed_us + 1).size(), 1u);
}

TEST(Recording, FromTheFourthGapOnReleaseHasTheGapForItsLimit) {
    TraceWriter writer;
    writer.level(0, 500'000).flashes(1, 5, 350'000, 350'000).level(0, 3'000'000);
    const host::Smoothed smoothed = host::smooth(writer.trace(), defaults);
    EXPECT_EQ(smoothed.known_from_us, 500'000 + 4 * 700'000 + core::built_in::blink_us);
    const auto held =
        host::disagreements({{0, Indication::off},
                             {505'000, Indication::left},
                             {500'000 + 5 * 700'000 + 650'000, Indication::off}},
                            smoothed.timeline, host::allowance(smoothed, defaults), writer.trace().end_us);
    ASSERT_EQ(held.size(), 1u);
    EXPECT_EQ(held[0].kind, host::Disagreement::late_release);
    EXPECT_TRUE(compare(writer.trace(), defaults).empty());
}

TEST(Recording, ASingleFlashIsHeldWhateverIsKnown) {
    TraceWriter writer;
    writer.level(0, 500'000).flashes(1, 20, 350'000, 350'000).level(0, 2'000'000);
    writer.flashes(1, 1, 350'000, 350'000).level(0, 3'000'000);
    EXPECT_TRUE(compare(writer.trace(), defaults).empty());
}

TEST(Recording, FastFlashesAreKnownFromThe31stGapOn) {
    for (const int flashes : {31, 32}) {
        TraceWriter writer;
        writer.level(0, 500'000).flashes(1, flashes, 150'000, 150'000).level(0, 3'000'000);
        const TimeUs known_from_us = host::smooth(writer.trace(), defaults).known_from_us;
        EXPECT_EQ(known_from_us,
                  flashes < 32 ? host::never_us : 500'000 + 31 * 300'000 + core::built_in::blink_us);
        EXPECT_TRUE(compare(writer.trace(), defaults).empty()) << flashes;
    }
}

TEST(Recording, AHazardThatBecomesATurnMayShowBothUntilTheTurnHasFlashedAlone) {
    TraceWriter writer;
    writer.level(0, 500'000).flashes(3, 20, 350'000, 350'000).flashes(1, 6, 350'000, 350'000);
    writer.level(0, 3'000'000);
    EXPECT_TRUE(compare(writer.trace(), defaults).empty());
}

TEST(Recording, AHazardsSidesBeginAndEndTogether) {
    TraceWriter writer;
    writer.level(0, 500'000);
    for (int i = 0; i < 5; ++i) // right rises 15 ms late and falls 25 ms late
        writer.level(1, 15'000).level(3, 335'000).level(2, 25'000).level(0, 325'000);
    const TimeUs end_us = writer.now_us() - 325'000;
    writer.level(0, 2'000'000);
    EXPECT_EQ(
        answer(writer),
        (host::Timeline{{0, Indication::off}, {500'000, Indication::hazard}, {end_us, Indication::off}}));
}

TEST(Recording, AStuckLineIsShownUntilTheOtherSideLightsUp) {
    TraceWriter writer;
    TimeUs left_until_us[2];
    writer.level(2, 2'000'000);
    for (TimeUs& until_us : left_until_us) {
        for (int i = 0; i < 6; ++i)
            writer.level(3, 350'000).level(2, 350'000);
        until_us = writer.now_us() - 350'000;
        writer.level(2, 4'000'000);
    }
    // left lights up at 2 s and finds right lit for longer than any flash
    EXPECT_EQ(answer(writer), (host::Timeline{{0, Indication::right},
                                              {2'000'000, Indication::left},
                                              {left_until_us[0], Indication::off},
                                              {left_until_us[0] + 4'350'000, Indication::left},
                                              {left_until_us[1], Indication::off}}));
    EXPECT_TRUE(compare(writer.trace(), defaults).empty());
}

TEST(Recording, ALineThatIsStuckToTheEndIsShownToTheEnd) {
    TraceWriter writer;
    writer.level(0, 1'000'000).flashes(1, 5, 350'000, 350'000).level(1, 60'000'000);
    EXPECT_EQ(answer(writer), (host::Timeline{{0, Indication::off}, {1'000'000, Indication::left}}));
    EXPECT_TRUE(compare(writer.trace(), defaults).empty());
}

TEST(Recording, MissingFlashesAreBridged) {
    host::RandomStream random(4, 0);
    TraceWriter writer;
    std::vector<TimeUs> missing_us; // the middle of each missing flash
    writer.level(0, 1'000'000);
    bool was_missing = true; // two in a row would be a pause
    constexpr int flashes = 600;
    for (int i = 0; i < flashes; ++i) {
        const auto jitter_us = [&] { return random.whole(-7'000, 7'000); };
        was_missing = !was_missing && i > 3 && i + 4 < flashes && random.unit() < 0.03;
        const TimeUs on_us = 353'000 + jitter_us();
        if (was_missing) missing_us.push_back(writer.now_us() + on_us / 2);
        writer.level(was_missing ? 0 : 1, on_us).level(0, 353'000 + jitter_us());
    }
    writer.level(0, 2'000'000);
    ASSERT_GT(missing_us.size(), 10u);
    const host::Smoothed smoothed = host::smooth(writer.trace(), defaults);
    EXPECT_EQ(smoothed.timeline.size(), 3u) << "off, left, off";
    const auto found = compare(writer.trace(), defaults);
    ASSERT_EQ(found.size(), missing_us.size())
        << "each one is a dropout of the causal answer, nothing else is";
    for (std::size_t i = 0; i < found.size(); ++i) {
        EXPECT_EQ(found[i].kind, host::Disagreement::dropout);
        EXPECT_LT(found[i].from_us, missing_us[i]);
        EXPECT_GT(found[i].to_us, missing_us[i]);
    }
}

TEST(Recording, TwoFlashesMissingInARowEndTheAnswer) {
    TraceWriter writer;
    writer.flashes(1, 6, 350'000, 350'000);
    const TimeUs end_us = writer.now_us() - 350'000;
    writer.level(0, 2 * 700'000);
    const TimeUs again_us = writer.now_us();
    writer.flashes(1, 6, 350'000, 350'000);
    EXPECT_EQ(
        answer(writer),
        (host::Timeline{{0, Indication::left}, {end_us, Indication::off}, {again_us, Indication::left}}));
}

TEST(Recording, TooShortAHoldDropsOutInExactlyTheDarkPhases) {
    TraceWriter writer;
    std::vector<host::Disagreeing> expected;
    core::Settings fixed;
    fixed.rule = core::HoldRule::fixed;
    fixed.hold_us = 250'000;
    fixed.cut_short = false;
    writer.level(0, 500'000);
    for (const int side : {1, 2}) {
        for (int i = 0; i < 6; ++i) {
            writer.level(side, 353'000);
            const auto asked = static_cast<Indication>(side);
            if (i < 5) // from the end of the hold to the next settled rise
                expected.push_back({writer.now_us() + 250'000, writer.now_us() + 353'000 + 5'000,
                                    Indication::off, asked, host::Disagreement::dropout});
            writer.level(0, 353'000);
        }
        writer.level(0, 2'000'000);
    }
    EXPECT_EQ(compare(writer.trace(), fixed), expected);
    EXPECT_TRUE(compare(writer.trace(), defaults).empty());
}

TEST(Recording, TooLongAHoldIsLateAndOverlaps) {
    TraceWriter writer;
    core::Settings fixed;
    fixed.rule = core::HoldRule::fixed;
    fixed.hold_us = 1'500'000;
    fixed.handover_us = 0;
    fixed.cut_short = false;
    writer.flashes(1, 6, 353'000, 353'000).level(0, 500'000);
    const TimeUs right_us = writer.now_us();
    writer.flashes(2, 6, 353'000, 353'000);
    const TimeUs left_end_us = right_us - 853'000;
    const TimeUs right_end_us = writer.now_us() - 353'000;
    writer.level(0, 3'000'000);
    const host::Smoothed smoothed = host::smooth(writer.trace(), fixed);
    const host::Allowance allowed = host::allowance(smoothed, fixed);
    EXPECT_GT(allowed.release_us[0], 353'000);
    EXPECT_LT(allowed.release_us[0], 353'000 * 3 / 2 + 150'000);
    const std::vector<host::Disagreeing> expected{
        {left_end_us + allowed.release_us[0], right_us, Indication::left, Indication::off,
         host::Disagreement::late_release},
        {right_us, left_end_us + 1'500'000, Indication::hazard, Indication::right,
         host::Disagreement::overlap},
        {right_end_us + allowed.release_us[1], right_end_us + 1'500'000, Indication::right, Indication::off,
         host::Disagreement::late_release}};
    EXPECT_EQ(compare(writer.trace(), fixed), expected);
}

} // namespace
} // namespace winkhold::testing
