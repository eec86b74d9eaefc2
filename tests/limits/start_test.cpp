// First light, first dark, and both sides of a hazard.
#include "limits/support.hpp"

namespace {

using namespace winkhold;
using namespace winkhold::test;
using core::Indication;
using core::Side;
using host::LimitMeasure;
using host::Unit;

Limit first_light() {
    return limit(LimitMeasure::first_light, {}, 1, Unit::second);
}

Observed asked_at(const Lines& lines, std::vector<Asked> asked) {
    Observed seen = lines.observed();
    seen.asked = std::move(asked);
    return seen;
}

TEST(FirstLight, IsNotJudgedWhereTheSwitchIsNotKnown) {
    const Finding found = find(first_light(), Lines().light(Side::left, 5'000'000, 5'400'000).observed());
    EXPECT_EQ(found.ruling, Ruling::not_judged);
    EXPECT_NE(found.why.find("--truth"), std::string::npos);
}

// Swiss VTS art. 79(2) (read): lit within a second of switch-on.
TEST(FirstLight, HoldsToTheMicrosecond) {
    const Limit one_second = carried("switzerland", "switzerland.first-light");
    const auto ruling = [&](TimeUs after_us) {
        return find(one_second, asked_at(Lines().light(Side::left, 1'000'000 + after_us, 3'000'000),
                                         {{Indication::left, 1'000'000, 4'000'000}}))
            .ruling;
    };
    EXPECT_EQ(ruling(999'999), Ruling::kept);
    EXPECT_EQ(ruling(1'000'000), Ruling::kept);
    EXPECT_EQ(ruling(1'000'001), Ruling::broken);
}

// UN R53 6.3 / R48 6.5.9.2 (from memory): dark within 1.5 s of switch-on.
TEST(FirstDark, HoldsToTheMicrosecond) {
    const Limit limit = carried("un-ece", "un-ece.first-dark");
    const auto ruling = [&](TimeUs after_us) {
        return find(limit, asked_at(Lines().light(Side::left, 1'100'000, 1'000'000 + after_us),
                                    {{Indication::left, 1'000'000, 4'000'000}}))
            .ruling;
    };
    EXPECT_EQ(ruling(1'499'999), Ruling::kept);
    EXPECT_EQ(ruling(1'500'000), Ruling::kept);
    EXPECT_EQ(ruling(1'500'001), Ruling::broken);
}

TEST(FirstLight, ThatNeverCameIsBrokenOnceItWasWaitedForLongEnough) {
    const Lines other = Lines().light(Side::right, 9'000'000, 9'400'000);
    const Finding late = find(first_light(), asked_at(other, {{Indication::left, 1'000'000, 2'000'001}}));
    EXPECT_EQ(late.ruling, Ruling::broken);
    EXPECT_TRUE(late.at_least);
    const Finding brief = find(first_light(), asked_at(other, {{Indication::left, 1'000'000, 2'000'000}}));
    EXPECT_EQ(brief.ruling, Ruling::not_judged);
}

TEST(FirstDark, OfALampThatIsStillLitIsBrokenAndOfOneThatNeverLitNotJudged) {
    const Limit limit = carried("un-ece", "un-ece.first-dark");
    const std::vector<Asked> asked{{Indication::left, 1'000'000, 4'000'000}};
    EXPECT_EQ(find(limit, asked_at(Lines().light(Side::left, 1'100'000, 4'000'001), asked)).ruling,
              Ruling::broken);
    EXPECT_EQ(find(limit, asked_at(Lines().light(Side::right, 1'100'000, 4'000'001), asked)).ruling,
              Ruling::not_judged);
}

TEST(FirstLight, OfASideThatIsLitAlreadyIsAtOnce) {
    const Observed seen =
        asked_at(Lines().light(Side::left, 500'000, 1'400'000), {{Indication::left, 1'000'000, 4'000'000}});
    EXPECT_EQ(*find(first_light(), seen).value, 0);
    EXPECT_NEAR(*find(carried("un-ece", "un-ece.first-dark"), seen).value, 0.4, 1e-9);
}

TEST(FirstLight, AfterTheRequestIsAnothers) {
    const Finding found = find(first_light(), asked_at(Lines().light(Side::left, 5'000'000, 5'400'000),
                                                       {{Indication::left, 1'000'000, 2'500'000}}));
    EXPECT_TRUE(found.at_least);
    EXPECT_NEAR(*found.value, 1.5, 1e-9);
}

TEST(FirstDark, IsNotTheEndOfTheRecording) {
    Observed seen = Lines().observed();
    seen.signals[0].lights = {{.on_us = 1'100'000, .off_us = 3'000'000, .to_end = true}};
    seen.asked = {{Indication::left, 1'000'000, 3'000'000}};
    EXPECT_TRUE(find(carried("un-ece", "un-ece.first-dark"), seen).at_least);
}

TEST(FirstLight, OfAHazardIsThatOfBothSides) {
    Lines lines;
    lines.light(Side::left, 1'100'000, 1'400'000).light(Side::right, 2'200'000, 2'500'000);
    const Finding found = find(first_light(), asked_at(lines, {{Indication::hazard, 1'000'000, 4'000'000}}));
    EXPECT_EQ(found.ruling, Ruling::broken);
    EXPECT_EQ(found.where, "right line");
    EXPECT_NEAR(*found.value, 1.2, 1e-9);
}

Observed three_starts(TimeUs cycle_us, TimeUs third_us, TimeUs lit_us = 350'000) {
    Lines lines;
    std::vector<Asked> asked;
    TimeUs at_us = 1'000'000;
    for (const TimeUs until_us : {cycle_us, cycle_us, third_us}) {
        asked.push_back({Indication::left, at_us, at_us + 5'000'000});
        lines.light(Side::left, at_us + until_us - lit_us - 300'000, at_us + until_us - 300'000);
        lines.light(Side::left, at_us + until_us, at_us + until_us + 300'000);
        at_us += 10'000'000;
    }
    return asked_at(lines, asked);
}

// SAE J945, summary (quoted): a normally open flasher's start is its first whole cycle, the mean of three
// within 1.5 s, none over 2.0 s.
TEST(Start, OfANormallyOpenFlasherIsItsFirstWholeCycle) {
    const Limit mean = carried("united-states", "united-states.start-mean");
    const Limit longest = carried("united-states", "united-states.start-longest");
    EXPECT_EQ(find(mean, three_starts(1'300'000, 1'900'000)).ruling, Ruling::kept);
    EXPECT_NEAR(*find(mean, three_starts(1'300'000, 1'900'000)).value, 1.5, 1e-9);
    EXPECT_EQ(find(mean, three_starts(1'300'000, 1'900'003)).ruling, Ruling::broken);
    EXPECT_EQ(find(longest, three_starts(1'000'000, 2'000'000)).ruling, Ruling::kept);
    EXPECT_EQ(find(longest, three_starts(1'000'000, 2'000'001)).ruling, Ruling::broken);
}

TEST(Start, OnAverageTakesThreeStarts) {
    Observed two = three_starts(1'300'000, 1'900'000);
    two.asked->pop_back();
    EXPECT_EQ(find(carried("united-states", "united-states.start-mean"), two).ruling, Ruling::not_judged);
}

// SAE J945, summary (quoted): of a normally closed flasher it is the time until it first opens.
TEST(Start, OfANormallyClosedFlasherIsUntilItFirstOpens) {
    const Limit longest = carried("united-states", "united-states.start-longest-normally-closed");
    const Limit mean = carried("united-states", "united-states.start-mean-normally-closed");
    const auto lit_for = [](TimeUs lit_us) {
        Lines lines;
        std::vector<Asked> asked;
        for (const TimeUs at_us : {1'000'000, 11'000'000, 21'000'000}) {
            asked.push_back({Indication::left, at_us, at_us + 6'000'000});
            lines.light(Side::left, at_us + 20'000, at_us + 20'000 + lit_us);
            lines.light(Side::left, at_us + 320'000 + lit_us, at_us + 620'000 + lit_us);
        }
        Observed seen = asked_at(lines, asked);
        return seen;
    };
    const auto judged = [](Limit limit, const Observed& seen) {
        limit.only_if.clear();
        return find(limit, seen);
    };
    EXPECT_EQ(judged(longest, lit_for(2'520'000)).ruling, Ruling::broken) << "not: first light after 0.020 s";
    EXPECT_NEAR(*judged(longest, lit_for(2'520'000)).value, 2.54, 1e-9);
    EXPECT_EQ(judged(longest, lit_for(1'980'000)).ruling, Ruling::kept);
    EXPECT_EQ(judged(mean, lit_for(1'980'000)).ruling, Ruling::broken);
    EXPECT_EQ(judged(mean, lit_for(1'480'000)).ruling, Ruling::kept);
    EXPECT_EQ(judged(mean, lit_for(1'480'001)).ruling, Ruling::broken);
}

// Asked for while its side is lit already, as a hazard pressed during a turn: nothing starts.
TEST(Start, OfAFlasherThatIsRunningIsNone) {
    Lines lines;
    lines.light(Side::left, 1'000'000, 3'600'000).light(Side::left, 5'000'000, 5'300'000);
    const Observed seen = asked_at(lines, {{Indication::left, 1'100'000, 7'000'000}});
    EXPECT_EQ(find(carried("united-states", "united-states.start-longest"), seen).ruling, Ruling::not_judged);
}

TEST(Requests, AreReadFromTheSwitchsChanges) {
    const auto asked =
        host::asked_in({{0, Indication::off}, {5, Indication::left}, {9, Indication::hazard}}, 20);
    ASSERT_EQ(asked.size(), 2u);
    EXPECT_EQ(asked[0].end_us, 9);
    EXPECT_EQ(asked[1].show, Indication::hazard);
    EXPECT_EQ(asked[1].end_us, 20);
}

Observed hazard(TimeUs right_after_us, int flashes) {
    Lines lines;
    lines.flashes(Side::left, {{350'000, 350'000}}, flashes);
    lines.flashes(Side::right, {{350'000, 350'000}}, flashes, 1'000'000 + right_after_us);
    return lines.observed();
}

TEST(Hazard, SidesAreComparedToTheMicrosecond) {
    const Limit limit = carried("un-ece", "un-ece.hazard-in-phase");
    EXPECT_EQ(find(limit, hazard(99'999, 6)).ruling, Ruling::kept);
    EXPECT_EQ(find(limit, hazard(100'000, 6)).ruling, Ruling::kept);
    EXPECT_EQ(find(limit, hazard(100'001, 6)).ruling, Ruling::broken);
    EXPECT_NEAR(*find(limit, hazard(350'000, 6)).value, 350, 1e-9);
}

TEST(Hazard, OfTwoFlashesIsNotJudged) {
    const Limit limit = carried("un-ece", "un-ece.hazard-in-phase");
    EXPECT_EQ(find(limit, hazard(0, 2)).ruling, Ruling::not_judged);
    EXPECT_EQ(find(limit, hazard(0, 3)).ruling, Ruling::kept);
}

TEST(Hazard, PressedInAFlashOfATurnIsNotOutOfPhaseForThatFlash) {
    Lines lines;
    lines.flashes(Side::left, {{350'000, 350'000}}, 10);
    lines.light(Side::right, 3'300'000, 3'450'000); // the rest of the left flash
    lines.flashes(Side::right, {{350'000, 350'000}}, 6, 3'800'000);
    EXPECT_EQ(*find(carried("un-ece", "un-ece.hazard-in-phase"), lines.observed()).value, 0);
}

TEST(Hazard, EachOfManyIsCompared) {
    const std::vector<std::pair<TimeUs, TimeUs>> pattern{{350'000, 350'000}};
    for (const TimeUs late_us : {1'000'000, 20'000'000, 40'000'000}) {
        Lines lines;
        lines.flashes(Side::left, pattern, 6, 10'000'000); // a turn between
        lines.flashes(Side::right, pattern, 6, 30'000'000);
        for (const TimeUs at_us : {1'000'000, 20'000'000, 40'000'000}) {
            lines.flashes(Side::left, pattern, 6, at_us);
            lines.flashes(Side::right, pattern, 6, at_us + (at_us == late_us ? 50'000 : 10'000));
        }
        const Finding found = find(carried("un-ece", "un-ece.hazard-in-phase"), lines.observed());
        EXPECT_EQ(*found.value, 50) << late_us;
        EXPECT_EQ(found.readings, 3);
    }
}

TEST(Hazard, ASideChangeIsNone) {
    Lines lines;
    lines.flashes(Side::left, {{350'000, 350'000}}, 6);
    lines.flashes(Side::right, {{350'000, 350'000}}, 6, 5'000'000);
    EXPECT_EQ(find(carried("un-ece", "un-ece.hazard-in-phase"), lines.observed()).ruling, Ruling::not_judged);
}

} // namespace
