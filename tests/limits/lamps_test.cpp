// Sequences, both ends of a side, stop lamps, geometry.
#include "limits/support.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/bike/lamps/lamps.hpp"
#include "winkhold/bike/limits/limit.hpp"

namespace {

using namespace winkhold;
using namespace winkhold::test;
using core::Side;
using host::lamp_flash;
using host::LampGroup;
using host::LampPlan;
using host::never_us;

TEST(LampFlash, IsUniformAndOutwardIfEachStepIsLikeTheFirst) {
    const auto flash = lamp_flash({100, 30'100, 60'100}, {500'000, 500'000, 500'000}, 500'000);
    EXPECT_TRUE(flash.uniform && flash.outward && flash.latched);
    EXPECT_EQ(flash.start_us, 100);
    EXPECT_EQ(flash.full_us, 60'100);
}

TEST(LampFlash, StepsMayDifferByAMillisecond) {
    const std::vector<TimeUs> dark(3, 500'000);
    EXPECT_TRUE(lamp_flash({0, 30'000, 61'000}, dark, 500'000).uniform);
    EXPECT_FALSE(lamp_flash({0, 30'000, 61'001}, dark, 500'000).uniform);
}

TEST(LampFlash, BlocksOfDifferentSizeAreNotUniform) {
    const std::vector<TimeUs> dark(6, 500'000);
    EXPECT_TRUE(lamp_flash({0, 0, 30, 30, 60, 60}, dark, 500'000).uniform);
    EXPECT_FALSE(lamp_flash({0, 0, 0, 0, 30, 30}, dark, 500'000).uniform);
}

TEST(LampFlash, AnOuterLampAheadOfAnInnerOneIsNotOutward) {
    EXPECT_FALSE(lamp_flash({30'000, 0, 60'000}, {9, 9, 9}, 9).outward);
    EXPECT_FALSE(lamp_flash({never_us, 0}, {never_us, 9}, 9).outward);
}

TEST(LampFlash, ALampThatGoesDarkAheadOfTheLastIsNotLatched) {
    EXPECT_FALSE(lamp_flash({0, 30'000}, {199'999, 200'000}, 200'000).latched);
    EXPECT_TRUE(lamp_flash({0, 30'000}, {200'000, 200'000}, 200'000).latched);
}

TEST(LampFlash, IsNeverFullIfALampStaysDark) {
    EXPECT_EQ(lamp_flash({0, never_us}, {9, never_us}, 9).full_us, never_us);
}

LampGroup turn(const std::string& name, host::LampEnd at, core::Pattern pattern, std::uint16_t count = 6) {
    LampGroup group;
    group.name = name;
    group.at = at;
    group.plays.count = count;
    group.plays.pattern = pattern;
    return group;
}

LampPlan plan_of(host::Lamps lamps) {
    LampPlan plan;
    plan.lamps = std::move(lamps);
    return plan;
}

Finding ruled(const std::string& id, const LampPlan& plan, const Lines& lines) {
    return find(carried(id.substr(0, id.find('.')) == "germany" ? "germany" : "un-ece", id),
                lines.observed(plan), plan.lamps);
}

Lines steady_left(TimeUs on_us = 350'000) {
    return Lines().flashes(Side::left, {{on_us, 700'000 - on_us}}, 12);
}

// Six lamps 40 ms apart are full after 200 ms, UN R148 (from memory).
TEST(Sequence, MustBeFinishedWithinTwoHundredMilliseconds) {
    const auto found = [](core::Span step_us) {
        return ruled("un-ece.sequence-finished",
                     plan_of({turn("front", host::LampEnd::front, core::outward(step_us))}), steady_left());
    };
    EXPECT_EQ(found(39'999).ruling, Ruling::kept);
    EXPECT_EQ(found(40'000).ruling, Ruling::kept);
    EXPECT_EQ(*found(40'000).margin, 0);
    EXPECT_EQ(found(40'001).ruling, Ruling::broken);
    EXPECT_EQ(found(40'001).where, "front");
}

TEST(Sequence, OfTheDemosPatternKeepsEveryCondition) {
    const LampPlan plan = plan_of({turn("front", host::LampEnd::front, core::outward(30'000))});
    for (const char* id : {"un-ece.sequence-latched", "un-ece.sequence-outward", "un-ece.sequence-uniform",
                           "un-ece.sequence-finished"})
        EXPECT_EQ(ruled(id, plan, steady_left()).ruling, Ruling::kept) << id;
}

TEST(Sequence, InUnequalBlocksIsNotUniform) {
    const Finding found =
        ruled("un-ece.sequence-uniform",
              plan_of({turn("front", host::LampEnd::front, core::in_blocks(4, 30'000))}), steady_left());
    EXPECT_EQ(found.ruling, Ruling::broken);
    EXPECT_EQ(*found.value, 12);
}

// NHTSA letters nht90-116, nht90-191 (read): three-stage arrows that lose the third stage at the doubled
// rate.
TEST(Sequence, ThatShortFlashesCutOffIsNotJudgedAsFinished) {
    Observed seen = Lines().observed({});
    seen.flashes = {{.group = 0, .start_us = 0, .end_us = 128'000},
                    {.group = 0, .start_us = 300'000, .end_us = 428'000, .full_us = 400'000}};
    const LampPlan plan = plan_of({turn("front", host::LampEnd::front, core::outward(30'000))});
    Finding found = find(carried("un-ece", "un-ece.sequence-finished"), seen, plan.lamps);
    EXPECT_EQ(found.ruling, Ruling::not_judged);
    EXPECT_NE(found.why.find("front: 1 of 2 flashes end before the last lamp lights"), std::string::npos)
        << found.why;
    seen.flashes[0].may_be_cut = true;
    EXPECT_EQ(find(carried("un-ece", "un-ece.sequence-finished"), seen, plan.lamps).ruling, Ruling::kept);
}

TEST(Sequence, ThatACancelOrTheRecordingsEndCutsOffIsNoneThatFailed) {
    const LampPlan plan = plan_of({turn("front", host::LampEnd::front, core::outward(30'000))});
    const Limit limit = carried("un-ece", "un-ece.sequence-finished");
    Lines lines = steady_left();
    lines.light(Side::left, 1'000'000 + 12 * 700'000, 1'000'000 + 12 * 700'000 + 60'000);
    EXPECT_EQ(find(limit, lines.observed(plan), plan.lamps).ruling, Ruling::kept);
    const Observed ends = steady_left().light(Side::left, 9'400'000, 9'460'000).observed(plan, -20'000);
    EXPECT_FALSE(ends.flashes.back().full_us != never_us);
    EXPECT_EQ(find(limit, ends, plan.lamps).ruling, Ruling::kept);
}

TEST(Sequence, OfLampsThatLightTogetherIsNone) {
    const LampPlan plan = plan_of({turn("front", host::LampEnd::front, core::together())});
    for (const char* id : {"un-ece.sequence-finished", "un-ece.sequence-gap", "un-ece.sequence-latched"})
        EXPECT_EQ(ruled(id, plan, steady_left()).ruling, Ruling::not_judged) << id;
}

TEST(Sequence, OfAGroupThatWasNeverSeenIsNotPassedByAnotherOne) {
    LampGroup right = turn("right", host::LampEnd::front, core::outward(30'000));
    right.plays.side = core::Indication::right;
    const LampPlan plan = plan_of({turn("left", host::LampEnd::front, core::outward(30'000)), right});
    for (const char* id : {"un-ece.sequence-finished", "un-ece.sequence-latched"}) {
        const Finding found = ruled(id, plan, steady_left());
        EXPECT_EQ(found.ruling, Ruling::not_judged) << id;
        EXPECT_NE(found.why.find("right: no flash was seen"), std::string::npos) << found.why;
    }
}

// UN R148 (quoted): gap at most 50 mm, width at least 1.7 times height.
TEST(Geometry, HoldsAtItsBounds) {
    LampPlan plan = plan_of({turn("front", host::LampEnd::front, core::outward(30'000))});
    LampGroup& group = plan.lamps[0];
    const auto ruling = [&](const char* id) { return ruled(id, plan, steady_left()).ruling; };
    EXPECT_EQ(ruling("un-ece.sequence-gap"), Ruling::not_judged);
    EXPECT_EQ(ruling("un-ece.sequence-aspect"), Ruling::not_judged);
    group.gap_mm = 50;
    group.width_mm = 17;
    EXPECT_EQ(ruling("un-ece.sequence-gap"), Ruling::kept);
    EXPECT_EQ(ruling("un-ece.sequence-aspect"), Ruling::not_judged) << "height is not known";
    group.height_mm = 10;
    EXPECT_EQ(ruling("un-ece.sequence-aspect"), Ruling::kept);
    group.gap_mm = 50.001;
    group.height_mm = 10.001;
    EXPECT_EQ(ruling("un-ece.sequence-gap"), Ruling::broken);
    EXPECT_EQ(ruling("un-ece.sequence-aspect"), Ruling::broken);
}

TEST(Geometry, OneUnknownGroupIsEnoughForNotJudgedUnlessAKnownOneBreaks) {
    LampPlan plan = plan_of({turn("front", host::LampEnd::front, core::outward(30'000)),
                             turn("rear", host::LampEnd::rear, core::outward(30'000))});
    plan.lamps[0].gap_mm = 4;
    const Finding unsure = ruled("un-ece.sequence-gap", plan, steady_left());
    EXPECT_EQ(unsure.ruling, Ruling::not_judged);
    EXPECT_NE(unsure.why.find("rear: no gap_mm"), std::string::npos) << unsure.why;
    plan.lamps[0].gap_mm = 60;
    EXPECT_EQ(ruled("un-ece.sequence-gap", plan, steady_left()).ruling, Ruling::broken);
}

// StVZO 54(1): the same side in phase (read); R48's is for cars
TEST(SideInPhase, TakesLampsAtBothEnds) {
    LampPlan plan = plan_of({turn("front", host::LampEnd::front, core::outward(30'000))});
    EXPECT_EQ(ruled("germany.side-in-phase", plan, steady_left()).ruling, Ruling::not_judged);
    plan.lamps.push_back(turn("rear", host::LampEnd::rear, core::together()));
    const Finding found = ruled("germany.side-in-phase", plan, steady_left());
    EXPECT_EQ(found.ruling, Ruling::kept);
    EXPECT_EQ(*found.value, 0);
}

TEST(SideInPhase, AlternatingEndsAreTold) {
    Observed seen = Lines().observed({});
    for (TimeUs at_us = 0; at_us < 7'000'000; at_us += 700'000) {
        seen.flashes.push_back({.group = 0, .start_us = at_us, .end_us = at_us + 350'000});
        seen.flashes.push_back({.group = 1, .start_us = at_us + 350'000, .end_us = at_us + 700'000});
    }
    const host::Lamps lamps{turn("front", host::LampEnd::front, core::together()),
                            turn("rear", host::LampEnd::rear, core::together())};
    EXPECT_NEAR(*find(carried("germany", "germany.side-in-phase"), seen, lamps).value, 350, 1e-9);
}

LampGroup stop() {
    LampGroup group;
    group.name = "stop";
    group.plays.job = core::Job::stop;
    group.plays.side = core::Indication::hazard;
    return group;
}

TEST(StopLamp, LightsAsSoonAsTheBrakeHasSettledWhateverTheTurnLampsDo) {
    const LampPlan plan = plan_of({turn("front", host::LampEnd::front, core::outward(30'000)), stop()});
    Lines lines = steady_left();
    for (TimeUs at_us = 1'000'000; at_us < 9'000'000; at_us += 411'000)
        lines.brake(at_us, at_us + 200'000);
    const Finding found = ruled("any-place.stop-lamp-delay", plan, lines);
    EXPECT_EQ(found.ruling, Ruling::kept);
    EXPECT_EQ(*found.value, core::Settings{}.settle_us / 1e3);
}

TEST(StopLamp, ThatIsStillLitFromThePressBeforeAnswersAtOnce) {
    const LampPlan plan = plan_of({turn("front", host::LampEnd::front, core::outward(30'000)), stop()});
    Lines lines = Lines().light(Side::left, 1'000'000, 1'350'000);
    lines.brake(1'000'000, 1'154'000).brake(1'156'000, 1'300'000); // a turn lamp lights between, at 1.155 s
    const Observed seen = lines.observed(plan);
    ASSERT_EQ(seen.presses.size(), 2u);
    EXPECT_EQ(seen.presses[0].lit_us, 1'005'000);
    EXPECT_EQ(seen.presses[0].released_us, 1'154'000);
    EXPECT_EQ(seen.presses[1].lit_us, 1'156'000);
}

TEST(StopLamp, OfABrakeThatNeverRestsIsRefusedBeforeMemoryGrows) {
    host::Observer observer(plan_of({stop()}), core::Settings{});
    const auto press = [&](std::size_t i) {
        const TimeUs at_us = 1'000 * static_cast<TimeUs>(i);
        observer.feed({at_us, core::Lines(core::Lines::brake)});
        observer.feed({at_us + 500, core::Lines{}});
    };
    for (std::size_t i = 0; i < host::most_flashes; ++i)
        press(i);
    EXPECT_THROW(press(host::most_flashes), host::InputError);
}

TEST(StopLamp, ThatNeverLitIsBrokenAfterALongPressAndNotJudgedAfterAShortOne) {
    Observed seen = Lines().observed({});
    const host::Lamps lamps{stop()};
    const Limit limit = carried("un-ece", "any-place.stop-lamp-delay");
    EXPECT_EQ(find(limit, seen, lamps).ruling, Ruling::not_judged);
    seen.presses = {{0, 1'000'000, 1'020'000, never_us}};
    EXPECT_EQ(find(limit, seen, lamps).ruling, Ruling::not_judged);
    seen.presses = {{0, 1'000'000, 1'020'001, never_us}};
    EXPECT_EQ(find(limit, seen, lamps).ruling, Ruling::broken);
    seen.presses = {{0, 1'000'000, 3'000'000, 1'020'001}};
    EXPECT_EQ(find(limit, seen, lamps).ruling, Ruling::broken);
    seen.presses = {{0, 1'000'000, 3'000'000, 1'020'000}};
    EXPECT_EQ(find(limit, seen, lamps).ruling, Ruling::kept);
}

TEST(StopLamp, ABrakeThatIsPressedAllAlongLeavesTheTurnLinesAlone) {
    host::Trace trace{
        {{0, core::Lines{}}, {500'000, core::Lines(core::Lines::left)}, {900'000, core::Lines{}}}, 2'000'000};
    const host::Trace braked = host::with_brake(trace);
    bool pressed = false, left = false;
    for (const host::Edge& edge : braked.edges) {
        pressed |= edge.lines.has(core::Lines::brake);
        left |= edge.lines.has(core::Lines::left);
        EXPECT_EQ(edge.lines.has(core::Lines::left), edge.t_us >= 500'000 && edge.t_us < 900'000);
    }
    EXPECT_TRUE(pressed && left);
    EXPECT_EQ(braked.end_us, trace.end_us);
    EXPECT_EQ(host::with_brake(braked).edges, braked.edges) << "the rider's own brake stays";
}

// An own rate is judged in the lamps, whatever the factory's line does.
TEST(Lamps, OfTheirOwnRateAreJudgedByIt) {
    LampPlan plan = plan_of({turn("front", host::LampEnd::front, core::outward(20'000))});
    plan.timing.source = core::FlashSource::own_rate;
    plan.timing.on_us = plan.timing.dark_us = 225'000; // 133/min
    const Finding found = ruled("un-ece.flash-rate", plan, steady_left());
    EXPECT_EQ(found.ruling, Ruling::broken);
    EXPECT_EQ(found.where, "left lamps");
    EXPECT_NEAR(*found.value, 133.3, 0.1);
}

} // namespace
