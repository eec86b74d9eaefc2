// Flash rate and share lit, as publications average them.
#include "limits/support.hpp"

namespace {

using namespace winkhold;
using namespace winkhold::test;
using core::Side;
using host::LimitMeasure;
using host::Unit;

using Pattern = std::vector<std::pair<TimeUs, TimeUs>>;

Observed left(const Pattern& pattern, int times) {
    return Lines().flashes(Side::left, pattern, times).observed();
}

Limit rate(double least, double most) {
    return limit(LimitMeasure::flash_rate, least, most, Unit::per_minute);
}

// NHTSA interpretation letters 01931ztv and GF006498 on SAE J945 (read).
TEST(FlashRate, NhtsasFirstVectorIsRejectedThoughItsMeanPeriodWouldPass) {
    const Observed seen = left({{160'000, 200'000}, {160'000, 200'000}, {160'000, 620'000}}, 12);
    const Finding found = find(carried("united-states", "united-states.flash-rate"), seen);
    EXPECT_EQ(found.ruling, Ruling::broken);
    EXPECT_NEAR(*found.value, 136.8, 0.1);
    EXPECT_NEAR(found.rate->of_mean_period_per_min, 120.0, 0.1);
    EXPECT_NEAR(*found.margin, 120 - *found.value, 1e-9);
    EXPECT_EQ(found.limit.mark, host::Mark::read);
}

TEST(FlashRate, NhtsasSecondVectorIsAccepted) {
    const Observed seen = left({{200'000, 250'000}, {200'000, 250'000}, {200'000, 850'000}}, 12);
    const Finding found = find(carried("united-states", "united-states.flash-rate"), seen);
    EXPECT_EQ(found.ruling, Ruling::kept);
    EXPECT_NEAR(*found.value, 107.9, 0.1);
}

struct Edge {
    std::string name;
    const char *place, *id;
    const char* source; ///< and clause
    TimeUs shortest_us, longest_us;
};

class PublishedRates : public ::testing::TestWithParam<Edge> {};

TEST_P(PublishedRates, HoldToTheMicrosecond) {
    const Edge& edge = GetParam();
    const Limit limit = carried(edge.place, edge.id);
    EXPECT_EQ(limit.publication + ", " + limit.clause, edge.source);
    const auto ruling = [&](TimeUs period_us) {
        return find(limit, left({{200'000, period_us - 200'000}}, 15)).ruling;
    };
    EXPECT_EQ(ruling(edge.shortest_us - 1), Ruling::broken);
    EXPECT_EQ(ruling(edge.shortest_us), Ruling::kept);
    EXPECT_EQ(ruling(edge.shortest_us + 1), Ruling::kept);
    EXPECT_EQ(ruling(edge.longest_us - 1), Ruling::kept);
    EXPECT_EQ(ruling(edge.longest_us), Ruling::kept);
    EXPECT_EQ(ruling(edge.longest_us + 1), Ruling::broken);
}

INSTANTIATE_TEST_SUITE_P(
    Clauses, PublishedRates,
    ::testing::Values(
        Edge{"R53", "un-ece", "un-ece.flash-rate", "UN R53, 6.3.8.1", 500'000, 1'000'000},
        Edge{"Vts", "switzerland", "switzerland.flash-rate", "VTS, art. 79(2)", 500'000, 1'000'000},
        Edge{"Stvzo", "germany", "germany.flash-rate", "StVZO, 54(1)", 500'000, 1'000'000},
        Edge{"Mot", "united-kingdom", "united-kingdom.flash-rate",
             "MOT inspection manual, section 4 (1-5 before 2018)", 500'000, 1'000'000},
        Edge{"J945", "united-states", "united-states.flash-rate",
             "SAE J945 (1966), 3, as in NHTSA letters 01931ztv and GF006498", 500'000, 1'000'000}),
    [](const auto& info) { return info.param.name; });

// NSW vehicle standards, schedule 2 clause 113 (quoted): 45 to 120/min on fewer than four wheels
TEST(FlashRate, InNewSouthWalesFortyFiveAMinuteAreEnough) {
    const Limit limit = carried("new-south-wales", "new-south-wales.flash-rate");
    EXPECT_EQ(find(limit, left({{500'000, 833'333}}, 15)).ruling, Ruling::kept);
    EXPECT_EQ(find(limit, left({{500'000, 833'334}}, 15)).ruling, Ruling::broken);
    EXPECT_EQ(find(limit, left({{200'000, 299'999}}, 15)).ruling, Ruling::broken);
}

// 45/min are 1333333.33 us: no whole microsecond meets it
TEST(FlashRate, WithoutABatteryFortyFiveAMinuteAreEnough) {
    const Limit limit = carried("un-ece", "un-ece.flash-rate-without-battery", "motorcycle-without-battery");
    EXPECT_EQ(find(limit, left({{500'000, 833'333}}, 15)).ruling, Ruling::kept);
    EXPECT_EQ(find(limit, left({{500'000, 833'334}}, 15)).ruling, Ruling::broken);
}

TEST(FlashRate, WithoutAMethodOfItsOwnTheWorseAverageCounts) {
    // mean of rates 60.5, mean period 59.4
    const Observed slow = left({{300'000, 584'000}, {300'000, 836'000}}, 10);
    Limit either = rate(60, 120);
    EXPECT_EQ(find(either, slow).ruling, Ruling::broken);
    EXPECT_LT(*find(either, slow).value, 60);
    either.averaging = host::Averaging::mean_of_rates;
    EXPECT_EQ(find(either, slow).ruling, Ruling::kept);
}

// SAE J945 para 3 (read in the letters): after 5 cycles, as a mean of 3; nine flashes have eight cycles
TEST(FlashRate, TooFewFlashesAreNotJudgedHoweverFastTheyAre) {
    const Finding found = find(rate(60, 120), left({{76'000, 114'000}}, 8));
    EXPECT_EQ(found.ruling, Ruling::not_judged);
    EXPECT_FALSE(found.value);
    EXPECT_NE(found.why.find("only 7 cycles"), std::string::npos) << found.why;
    EXPECT_NE(found.why.find("9 flashes in a row"), std::string::npos) << found.why;
    EXPECT_EQ(find(rate(60, 120), left({{76'000, 114'000}}, 9)).ruling, Ruling::broken);
}

TEST(FlashRate, FirstFiveCyclesDoNotCount) {
    Lines lines;
    lines.flashes(Side::left, {{800'000, 800'000}}, 5);
    lines.flashes(Side::left, {{350'000, 350'000}}, 4, 9'000'000);
    const Finding found = find(rate(60, 120), lines.observed());
    EXPECT_EQ(found.ruling, Ruling::kept);
    EXPECT_EQ(found.rate->cycles, 3);
}

TEST(FlashRate, ALampThatFailsOnTheWayIsNotAveragedAway) {
    Lines lines;
    lines.flashes(Side::left, {{353'000, 353'000}}, 20);
    lines.flashes(Side::left, {{128'000, 193'000}}, 4, 1'000'000 + 20 * 706'000);
    const Observed seen = lines.observed();
    const Profile profile{"here", "motorcycle", "Here", {rate(60, 120)}};
    const host::Judgement judgement = host::judge(profile, {}, std::span(&seen, 1), {});
    EXPECT_EQ(judgement.findings.front().ruling, Ruling::broken);
    EXPECT_NEAR(*judgement.findings.front().value, 186.9, 0.1);
    ASSERT_EQ(judgement.notes.size(), 1u);
    EXPECT_NE(judgement.notes[0].find("left line flashes at 186.9/min from 15.1 s on"), std::string::npos)
        << judgement.notes[0];
    EXPECT_NE(judgement.notes[0].find("a lamp may have failed"), std::string::npos);
}

TEST(FlashRate, ALampThatIsBackOnTheWayHidesNothing) {
    Lines lines;
    lines.flashes(Side::left, {{128'000, 193'000}}, 12);
    lines.flashes(Side::left, {{353'000, 353'000}}, 12, 1'000'000 + 12 * 321'000);
    EXPECT_NEAR(*find(rate(60, 120), lines.observed()).value, 186.9, 0.1);
}

TEST(FlashRate, AFlashThatHadBegunBeforeTheRecordingIsNoCycle) {
    const auto ruling = [](int flashes) {
        return find(rate(60, 120), Lines().flashes(Side::left, {{350'000, 350'000}}, flashes, 0).observed())
            .ruling;
    };
    EXPECT_EQ(ruling(9), Ruling::not_judged);
    EXPECT_EQ(ruling(10), Ruling::kept);
}

TEST(FlashRate, LightsOverSixSecondsApartAreNoFlasher) {
    EXPECT_EQ(find(rate(60, 120), left({{1'500'000, 4'500'000}}, 12)).ruling, Ruling::broken);
    EXPECT_EQ(find(rate(60, 120), left({{1'500'000, 4'500'001}}, 12)).ruling, Ruling::not_judged);
}

TEST(FlashRate, AFlasherSoSlowThatItLooksLikeARiderIsTold) {
    const Finding found = find(rate(60, 120), left({{1'500'000, 1'500'000}}, 12));
    EXPECT_EQ(found.ruling, Ruling::broken);
    EXPECT_NEAR(*found.value, 20, 0.01);
}

TEST(FlashRate, ARiderWhoTapsIsNoSlowFlasher) {
    Lines lines;
    TimeUs at_us = 1'000'000;
    for (int i = 0; i < 20; ++i, at_us += 1'900'000 + 700'000 * (i % 2))
        lines.light(Side::left, at_us, at_us + 350'000);
    EXPECT_EQ(find(rate(60, 120), lines.observed()).ruling, Ruling::not_judged);
}

TEST(FlashRate, RequestsThatAreKnownAreRunsOfTheirOwn) {
    Observed seen = left({{350'000, 350'000}}, 12);
    seen.asked = {{core::Indication::left, 900'000, 5'000'000},
                  {core::Indication::left, 5'000'000, 10'000'000}};
    EXPECT_EQ(find(rate(60, 120), seen).ruling, Ruling::not_judged);
    seen.asked = {{core::Indication::left, 900'000, 10'000'000}};
    EXPECT_EQ(find(rate(60, 120), seen).ruling, Ruling::kept);
}

TEST(FlashRate, OverThreeHertzMayBeAnEmergencyStopSignal) {
    const Observed seen = left({{125'000, 125'000}}, 20);
    const Profile profile = host::LimitBook::carried_along().profile("un-ece", "motorcycle");
    const auto ruling = [&](const std::set<std::string>& stated, const std::string& id) {
        for (const Finding& found : host::judge(profile, stated, std::span(&seen, 1), {}).findings)
            if (found.limit.id == id) return found.ruling;
        return Ruling::not_judged;
    };
    EXPECT_EQ(ruling({}, "un-ece.flash-rate"), Ruling::broken);
    EXPECT_EQ(ruling({}, "un-ece.emergency-stop-rate"), Ruling::not_judged);
    EXPECT_EQ(ruling({"emergency-stop-signal"}, "un-ece.flash-rate"), Ruling::not_judged);
    EXPECT_EQ(ruling({"emergency-stop-signal"}, "un-ece.emergency-stop-rate"), Ruling::kept);
}

std::vector<std::string> notes_on(const Observed& seen) {
    return host::judge(Profile{"here", "motorcycle", "Here", {}}, {}, std::span(&seen, 1), {}).notes;
}

TEST(FastFlashes, OnBothSidesAtOnceMayBeAnEmergencyStopSignal) {
    const auto flashing = [](bool both) {
        Lines lines;
        lines.flashes(Side::left, {{125'000, 125'000}}, 6);
        if (both) lines.flashes(Side::right, {{125'000, 125'000}}, 6);
        return lines.observed();
    };
    const std::vector<std::string> one = notes_on(flashing(false)), both = notes_on(flashing(true));
    ASSERT_EQ(one.size(), 1u);
    EXPECT_EQ(one[0].find("emergency stop"), std::string::npos) << one[0];
    ASSERT_EQ(both.size(), 2u);
    for (const std::string& note : both)
        EXPECT_NE(note.find("emergency stop"), std::string::npos) << note;
}

TEST(FastFlashes, TakeThreeCycles) {
    EXPECT_EQ(notes_on(left({{120'000, 120'000}}, 3)).size(), 0u);
    ASSERT_EQ(notes_on(left({{120'000, 120'000}}, 4)).size(), 1u);
    EXPECT_EQ(notes_on(left({{120'000, 120'000}}, 4))[0].find("emergency"), std::string::npos);
    EXPECT_EQ(notes_on(left({{250'000, 250'000}}, 4)).size(), 0u) << "120/min";
    EXPECT_EQ(notes_on(left({{250'000, 249'999}}, 4)).size(), 1u);
}

TEST(FastFlashes, AreNotThoseThatASupplyDipSplits) {
    Lines lines;
    for (int i = 0; i < 6; ++i) {
        const TimeUs at_us = 1'000'000 + 700'000 * i;
        lines.light(Side::left, at_us, at_us + 100'000);
        if (i == 2 || i == 4) lines.light(Side::left, at_us + 140'000, at_us + 350'000);
    }
    EXPECT_EQ(notes_on(lines.observed()).size(), 0u);
}

// Percent on time 30-75 %: 49 CFR 571.108 Figure 2 / SAE J590 (from memory).
TEST(OnShare, HoldsToTheMicrosecond) {
    const Limit share = carried("united-states", "united-states.on-share");
    const auto ruling = [&](TimeUs on_us) {
        return find(share, left({{on_us, 700'000 - on_us}}, 12)).ruling;
    };
    EXPECT_EQ(ruling(209'999), Ruling::broken);
    EXPECT_EQ(ruling(210'000), Ruling::kept);
    EXPECT_EQ(ruling(210'001), Ruling::kept);
    EXPECT_EQ(ruling(524'999), Ruling::kept);
    EXPECT_EQ(ruling(525'000), Ruling::kept);
    EXPECT_EQ(ruling(525'001), Ruling::broken);
}

TEST(OnShare, BounceAtTheContactIsNoDarkTime) {
    Lines lines;
    for (int i = 0; i < 12; ++i) {
        const TimeUs at_us = 1'000'000 + 700'000 * i;
        lines.light(Side::left, at_us, at_us + 500);
        lines.light(Side::left, at_us + 2'000, at_us + 210'000);
    }
    EXPECT_EQ(find(carried("united-states", "united-states.on-share"), lines.observed()).ruling,
              Ruling::kept);
}

} // namespace
