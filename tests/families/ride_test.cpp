// Figures of one ride, and the limits beside the plain hold, on hand-made moments.
#include "winkhold/measure/families/judge.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using core::Lines;
using host::FamilyMiss;

/// Flashes of 300 ms lit and 300 ms dark; the request from the first rise to the end of the last light.
struct Story {
    host::Ride ride;

    explicit Story(core::Indication show) {
        ride.trace.edges = {{0, Lines(0)}};
        ride.trace.end_us = ride.truth.end_us = 10'000'000;
        ride.truth.requests = {{.show = show,
                                .start_us = 1'000'000,
                                .end_us = 4'300'000,
                                .first_light_us = 1'000'000,
                                .last_light_off_us = 4'300'000,
                                .flashes = 6}};
    }
    Story& flash(host::TimeUs at_us, std::uint8_t lines, host::TimeUs for_us = 300'000) {
        ride.trace.edges.push_back({at_us, Lines(lines)});
        ride.trace.edges.push_back({at_us + for_us, Lines(0)});
        return *this;
    }
    host::FamilyFigures figures(const core::Settings& settings) const {
        host::FamilyFigures figures;
        host::add_ride(ride, settings, figures);
        return figures;
    }
};

core::Settings hold(std::uint32_t hold_us) {
    core::Settings settings;
    settings.rule = core::HoldRule::fixed;
    settings.hold_us = hold_us;
    settings.settle_us = 5'000;
    settings.handover_us = 0;
    settings.cut_short = false;
    return settings;
}

TEST(FamilyFigures, ADropoutIsAwayUntilTheSideIsShownAgain) {
    Story story(core::Indication::left);
    for (int i = 0; i < 6; ++i)
        if (i != 2) story.flash(1'000'000 + i * 600'000, 1); // one is missing: dark for 900 ms
    const host::FamilyFigures figures = story.figures(hold(500'000));
    EXPECT_EQ(figures.requests, 1);
    EXPECT_EQ(figures.dropouts, 1);
    EXPECT_EQ(figures.away_us, 900'000 - 500'000 + 5'000) << "settle comes on top";
    EXPECT_EQ(story.figures(hold(900'000)).dropouts, 1) << "settle makes it 905 ms";
    EXPECT_EQ(story.figures(hold(910'000)).dropouts, 0);
    EXPECT_EQ(figures.false_shows, 0);
}

TEST(FamilyFigures, ALightThatNobodyAsksForIsAFalseShow) {
    Story story(core::Indication::left);
    for (int i = 0; i < 6; ++i)
        story.flash(1'000'000 + i * 600'000, 1);
    story.flash(7'000'000, 2, 30'000);
    EXPECT_EQ(story.figures(hold(500'000)).false_shows, 1);
}

TEST(FamilyFigures, AHazardAloneCountsOnceBothLinesHaveRisenAndOnlyBeyondTheWindow) {
    const host::TimeUs window_us = core::Settings{}.handover_us;
    const auto lone = [](const Story& story) { return story.figures(hold(400'000)).lone_hazards; };
    Story from_the_start(core::Indication::hazard);
    for (int i = 0; i < 6; ++i)
        from_the_start.flash(1'000'000 + i * 600'000, 1);
    EXPECT_EQ(lone(from_the_start), 0) << "the right line never rises: nobody can tell";
    Story right_fails(core::Indication::hazard);
    for (int i = 0; i < 6; ++i)
        right_fails.flash(1'000'000 + i * 600'000, i == 0 ? 3 : 1);
    EXPECT_EQ(lone(right_fails), 1) << "one long stretch";
    for (const host::TimeUs more_us : {0, 1'000}) {
        Story late(core::Indication::hazard); // after its fall, 400 ms of hold; the right rises late
        late.flash(1'000'000, 3);
        for (int i = 1; i < 6; ++i) {
            const host::TimeUs rise_us = 1'000'000 + i * 600'000;
            late.ride.trace.edges.push_back({rise_us, Lines(1)});
            late.ride.trace.edges.push_back({rise_us + 95'000 + window_us + more_us, Lines(3)});
            late.ride.trace.edges.push_back({rise_us + 300'000, Lines(0)});
        }
        // dark from the fall: 300 + 95 + window + settle 5 ms, of which 400 are held
        EXPECT_EQ(lone(late), more_us > 0 ? 5 : 0);
    }
}

host::FamilyRun run_of(std::vector<std::size_t> families, const host::FamilyFigures& mine,
                       const host::FamilyFigures& plain) {
    host::FamilyRun run;
    run.rows.push_back({std::move(families), {mine, plain}, {}});
    return run;
}

TEST(Limits, DropoutsMayBe5In100RequestsMoreForEachKindMixedIn) {
    const host::FamilyFigures plain{.requests = 1'000, .dropouts = 10};
    const auto misses = [&](std::vector<std::size_t> families, std::int64_t dropouts) {
        return host::judge_families(
                   run_of(std::move(families), {.requests = 1'000, .dropouts = dropouts}, plain), 0, 1, false)
            .misses;
    };
    EXPECT_TRUE(misses({0}, 60).empty());
    ASSERT_EQ(misses({0}, 61).size(), 1u);
    EXPECT_EQ(misses({0}, 61)[0].what, FamilyMiss::What::dropouts);
    EXPECT_DOUBLE_EQ(misses({0}, 61)[0].limit, 0.06);
    EXPECT_TRUE(misses({0, 1}, 110).empty());
    EXPECT_EQ(misses({0, 1}, 111).size(), 1u);
}

TEST(Limits, FalseShowsMayBe1In100RequestsMoreAndHazardsAreNeverAlone) {
    const host::FamilyFigures plain{.requests = 1'000, .false_shows = 5, .lone_hazards = 9};
    EXPECT_TRUE(
        host::judge_families(run_of({0}, {.requests = 1'000, .false_shows = 15}, plain), 0, 1, false).good());
    const auto misses =
        host::judge_families(run_of({0}, {.requests = 1'000, .false_shows = 16, .lone_hazards = 1}, plain), 0,
                             1, false)
            .misses;
    ASSERT_EQ(misses.size(), 2u);
    EXPECT_EQ(misses[0].what, FamilyMiss::What::false_shows);
    EXPECT_EQ(misses[1].what, FamilyMiss::What::lone_hazards);
}

TEST(Limits, TheMeanOverAllFamiliesMayBe1In100RequestsHoweverManyThePlainHoldHas) {
    const auto verdict = [](std::int64_t dropouts, bool all) {
        const host::FamilyFigures plain{.requests = 1'000, .dropouts = 500};
        host::FamilyRun run = run_of({0}, {.requests = 2'000, .dropouts = dropouts}, plain);
        run.rows.push_back({{1}, {{.requests = 10, .dropouts = 0}, plain}, {}}); // weighs as much
        run.rows.push_back(
            {{0, 1}, {{.requests = 10, .dropouts = 5}, plain}, {}}); // a mixture: doesn't count
        run.families = host::read_families("", {"hum", "touch"});
        return host::judge_families(run, 0, 1, all);
    };
    EXPECT_TRUE(verdict(40, true).good());
    EXPECT_DOUBLE_EQ(*verdict(40, true).mean_dropouts, 0.01);
    EXPECT_FALSE(verdict(41, true).good());
    EXPECT_TRUE(verdict(41, true).misses.empty());
    EXPECT_TRUE(verdict(41, false).good()) << "of a few named ones the mean says nothing";
}

} // namespace
