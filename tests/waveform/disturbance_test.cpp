// Breaks and stray pulses, flash by flash.
#include "waveform/support.hpp"

#include <algorithm>
#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::test;
using host::Disturbance;
using List = std::vector<Change>;
using What = Disturbance::What;
using Taps = Disturbance::Taps;
using Flashes = Disturbance::Flashes;

/// Lit from 0 to 0.5 s and from 1 to 1.5 s, and again at 3 s, as the first of another request.
host::Scenario three_flashes(Indication show, const Disturbance& disturbance) {
    host::Scenario s = clean();
    s.rider.script = {for_time(show, 1'600'000), for_time(Indication::off, 1'400'000),
                      for_time(show, 600'000), for_time(Indication::off, 1'000'000)};
    s.taps.disturbances = {disturbance};
    return s;
}

Disturbance breaks(TimeUs after_us, TimeUs for_us) {
    return {.for_us = static_cast<double>(for_us), .after_us = host::Range(static_cast<double>(after_us))};
}

Disturbance strays(TimeUs after_us, TimeUs for_us) {
    Disturbance one = breaks(after_us, for_us);
    one.what = What::stray;
    return one;
}

TEST(Break, ComesSoLongAfterEachRise) {
    EXPECT_EQ(changes_of(three_flashes(Indication::left, breaks(10'000, 20'000))), (List{{0, 1},
                                                                                         {10'000, 0},
                                                                                         {30'000, 1},
                                                                                         {500'000, 0},
                                                                                         {1'000'000, 1},
                                                                                         {1'010'000, 0},
                                                                                         {1'030'000, 1},
                                                                                         {1'500'000, 0},
                                                                                         {3'000'000, 1},
                                                                                         {3'010'000, 0},
                                                                                         {3'030'000, 1},
                                                                                         {3'500'000, 0}}));
}

TEST(Break, MayLastUntilTheLightEndsAndTakesNoneOfTheNext) {
    EXPECT_EQ(changes_of(three_flashes(Indication::left, breaks(400'000, 10'000'000))),
              (List{{0, 1}, {400'000, 0}, {1'000'000, 1}, {1'400'000, 0}, {3'000'000, 1}, {3'400'000, 0}}));
}

TEST(Break, OnlyInTheFirstFlashOfARequest) {
    Disturbance first = breaks(10'000, 20'000);
    first.flashes = Flashes::first;
    EXPECT_EQ(changes_of(three_flashes(Indication::left, first)), (List{{0, 1},
                                                                        {10'000, 0},
                                                                        {30'000, 1},
                                                                        {500'000, 0},
                                                                        {1'000'000, 1},
                                                                        {1'500'000, 0},
                                                                        {3'000'000, 1},
                                                                        {3'010'000, 0},
                                                                        {3'030'000, 1},
                                                                        {3'500'000, 0}}));
}

TEST(Break, OnlyInHazardsLeavesATurnAlone) {
    Disturbance hazard = breaks(10'000, 20'000);
    hazard.flashes = Flashes::hazard;
    EXPECT_EQ(changes_of(three_flashes(Indication::left, hazard)),
              (List{{0, 1}, {500'000, 0}, {1'000'000, 1}, {1'500'000, 0}, {3'000'000, 1}, {3'500'000, 0}}));
    hazard.taps = Taps::both;
    const List list = changes_of(three_flashes(Indication::hazard, hazard));
    ASSERT_EQ(list.size(), 12u);
    EXPECT_EQ(list[1], (Change{10'000, 0}));
    EXPECT_EQ(list[2], (Change{30'000, 3}));
}

TEST(Break, OfAHazardsTwoContactsTheBadOneIsAlwaysTheSame) {
    Disturbance bad = breaks(10'000, 20'000);
    bad.taps = Taps::one_bad;
    bool seen[3]{};
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        const List list = changes_of(three_flashes(Indication::hazard, bad), seed);
        ASSERT_EQ(list.size(), 12u);
        EXPECT_TRUE(list[1].turn == 1 || list[1].turn == 2);
        EXPECT_EQ(list[5], (Change{1'010'000, list[1].turn}));
        EXPECT_EQ(list[9], (Change{3'010'000, list[1].turn}));
        seen[list[1].turn] = true;
    }
    EXPECT_TRUE(seen[1] && seen[2]);
}

TEST(Break, AnywhereTakesSixTenthsOfTheLightAtMost) {
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        const List list = changes_of(three_flashes(Indication::left, {.for_us = 10'000'000}), seed);
        TimeUs lit_us = 0;
        for (std::size_t i = 0; i + 1 < list.size(); ++i)
            if (list[i].turn == 1) lit_us += list[i + 1].t_us - list[i].t_us;
        EXPECT_EQ(lit_us, 3 * 200'000) << "of 500 ms each";
    }
}

TEST(Break, VibrationOpensForItsShareOfEachPeriodUntilTheLightEnds) {
    const List list = changes_of(
        three_flashes(Indication::left, {.for_us = 10'000'000, .hz = 20, .open_percent = 30})); // 15 of 50 ms
    int whole = 0;
    for (std::size_t i = 0; i + 2 < list.size(); ++i) {
        const TimeUs dark_us = list[i + 1].t_us - list[i].t_us;
        if (list[i].turn != 0 || list[i].t_us % 1'000'000 >= 450'000 || dark_us > 100'000) continue;
        EXPECT_EQ(dark_us, 15'000);
        EXPECT_EQ(list[i + 2].t_us - list[i + 1].t_us, 35'000);
        ++whole;
    }
    EXPECT_GT(whole, 3);
}

TEST(Stray, ComesInTheDarkBetweenTwoFlashesOfARequestAndNowhereElse) {
    EXPECT_EQ(changes_of(three_flashes(Indication::left, strays(100'000, 20'000))), (List{{0, 1},
                                                                                          {500'000, 0},
                                                                                          {600'000, 1},
                                                                                          {620'000, 0},
                                                                                          {1'000'000, 1},
                                                                                          {1'500'000, 0},
                                                                                          {3'000'000, 1},
                                                                                          {3'500'000, 0}}));
}

TEST(Stray, MayComeOnTheOtherSideAndThenNotInAHazard) {
    Disturbance other = strays(100'000, 20'000);
    other.taps = Taps::other;
    const List list = changes_of(three_flashes(Indication::left, other));
    ASSERT_EQ(list.size(), 8u);
    EXPECT_EQ(list[2], (Change{600'000, 2}));
    EXPECT_EQ(changes_of(three_flashes(Indication::hazard, other)).size(), 6u);
}

TEST(Stray, ThatHasNoRoomLeft5MsBeforeTheNextFlashDoesNotCome) {
    EXPECT_EQ(changes_of(three_flashes(Indication::left, strays(475'000, 20'000))).size(), 8u);
    EXPECT_EQ(changes_of(three_flashes(Indication::left, strays(475'001, 20'000))).size(), 6u);
}

TEST(Stray, AnywhereKeeps5MsFromBothFlashes) {
    TimeUs first_us = host::never_us;
    TimeUs last_us = 0;
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        const List list =
            changes_of(three_flashes(Indication::left, {.what = What::stray, .for_us = 20'000}), seed);
        ASSERT_EQ(list.size(), 8u);
        first_us = std::min(first_us, list[2].t_us);
        last_us = std::max(last_us, list[3].t_us);
    }
    EXPECT_GE(first_us, 505'000);
    EXPECT_LT(first_us, 515'000) << "of 470 ms that it may begin in, 300 times";
    EXPECT_LE(last_us, 995'000);
    EXPECT_GT(last_us, 985'000);
}

TEST(Disturbances, AllOfThemAct) {
    host::Scenario s = three_flashes(Indication::left, breaks(10'000, 20'000));
    s.taps.disturbances.push_back(breaks(100'000, 5'000));
    s.taps.disturbances.push_back(strays(100'000, 20'000));
    EXPECT_EQ(changes_of(s).size(), 6u + 3 * 2 + 3 * 2 + 2);
}

TEST(Disturbances, ComeInTheShareOfFlashesThatIsAskedFor) {
    host::Scenario s = clean();
    s.rider.script = {for_time(Indication::left, 10'000'000'000)};
    s.taps.disturbances = {{.percent = 20, .for_us = 10'000}};
    EXPECT_NEAR((static_cast<double>(changes_of(s).size()) - 20'000) / 2, 2'000, 200) << "5 sigma";
}

} // namespace
