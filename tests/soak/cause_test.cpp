// Causes rest on evidence: a fault that nothing in the ride accounts for stays unexplained.
#include "winkhold/measure/soak/cause.hpp"

#include <algorithm>
#include <gtest/gtest.h>

namespace winkhold::testing {
namespace {

using core::Indication;
using host::Cause;
using host::Planted;
using host::SoakKind;
using host::TimeUs;

/// 60 flashes/min, half lit, clean contacts; left for 6 s, a pause, right for 2 s, a pause.
host::SoakRide plain_bike() {
    host::SoakRide soak{host::SoakPopulation::as_set, {}, false, {}};
    soak.scenario.flasher.rate_per_min = 60;
    soak.scenario.flasher.jitter_percent = 0;
    soak.scenario.contacts.bounce_us = 0;
    const auto step = [](Indication show, double us) {
        return host::RiderStep{.show = show, .by_flashes = false, .flashes = 0, .for_us = us};
    };
    soak.scenario.rider.script = {step(Indication::left, 6e6), step(Indication::off, 3e6),
                                  step(Indication::right, 2e6), step(Indication::off, 3e6)};
    return soak;
}

std::vector<host::SoakFinding> findings(const host::SoakRide& soak, const host::Ride& ride,
                                        const host::Timeline& timeline) {
    host::SoakVerdict verdict;
    host::judge_soak_ride(soak, ride, timeline, verdict);
    return verdict.findings;
}

/// The answer with `show` from `from_us` to `to_us`.
host::Timeline with(const host::Timeline& answer, Indication show, TimeUs from_us, TimeUs to_us) {
    host::Timeline changed;
    Indication before = Indication::off;
    Indication after = Indication::off;
    for (const host::IndicationChange& change : answer) {
        if (change.t_us <= from_us) before = change.indication;
        if (change.t_us <= to_us) after = change.indication;
        if (change.t_us < from_us) changed.push_back(change);
    }
    if (before != show) changed.push_back({from_us, show});
    if (after != show) changed.push_back({to_us, after});
    for (const host::IndicationChange& change : answer)
        if (change.t_us > to_us) changed.push_back(change);
    return changed;
}

class OneCause : public ::testing::Test {
protected:
    host::SoakRide soak_{plain_bike()};

    void expect(SoakKind kind, Cause cause, const host::Timeline& timeline) {
        const auto found = findings(soak_, ride(), timeline);
        ASSERT_FALSE(found.empty());
        for (const host::SoakFinding& finding : found) {
            EXPECT_EQ(finding.kind, kind);
            EXPECT_EQ(finding.cause, cause)
                << host::soak_causes[static_cast<std::size_t>(finding.cause)].name;
        }
    }
    host::Ride ride() const { return host::RideMaker(soak_.scenario).make(1, 0); }
    host::Timeline answer() const { return host::decode(ride().trace, soak_.scenario.decoder); }
};

TEST_F(OneCause, a_plain_bike_has_no_findings) {
    EXPECT_TRUE(findings(soak_, ride(), answer()).empty());
}

TEST_F(OneCause, contacts_that_bounce_for_a_microsecond_are_no_finding) {
    soak_.scenario.contacts.bounce_us = 1; // four pulses take 8 us all the same
    soak_.scenario.contacts.bounce_pulses = 4;
    soak_.scenario.decoder.handover_us = 0;
    soak_.scenario.rider.repeat = 20;
    EXPECT_TRUE(findings(soak_, ride(), answer()).empty());
}

TEST_F(OneCause, what_goes_wrong_within_2_s_of_a_disturbance_is_its_doing) {
    const host::Trace undisturbed = ride().trace;
    host::Ride disturbed = ride();
    // a break of 20 ms, 200 ms into the flash that begins at 2 s
    auto& edges = disturbed.trace.edges;
    const auto flash = std::find_if(edges.begin(), edges.end(),
                                    [](const host::Edge& edge) { return edge.t_us == 2'000'000; });
    ASSERT_NE(flash, edges.end());
    const core::Lines lit = flash->lines;
    const core::Lines dark = lit.with(core::Lines::left, false);
    edges.insert(flash + 1, {{2'200'000, dark}, {2'220'000, lit}});
    for (const auto& [lost_us, cause] : {std::pair<TimeUs, Cause>{2'199'999, Cause::unexplained},
                                         {2'205'000, Cause::line_disturbed},
                                         {4'220'000, Cause::line_disturbed},
                                         {4'220'001, Cause::unexplained}}) {
        host::SoakVerdict verdict;
        host::judge_soak_ride(soak_, disturbed, with(answer(), Indication::off, lost_us, lost_us + 1'000),
                              verdict, &undisturbed);
        ASSERT_EQ(verdict.findings.size(), 1u) << lost_us;
        EXPECT_EQ(verdict.findings[0].cause, cause) << lost_us;
    }
}

TEST_F(OneCause, a_side_lost_while_lit_is_unexplained) {
    for (const TimeUs from_us : {20'000, 250'000, 4'100'000, 4'499'999})
        expect(SoakKind::dropout, Cause::unexplained,
               with(answer(), Indication::off, from_us, from_us + 400));
}

TEST_F(OneCause, a_side_lost_in_a_dark_gap_that_was_learned_is_unexplained) {
    for (const TimeUs from_us : {4'505'000, 4'600'000, 4'999'000})
        expect(SoakKind::dropout, Cause::unexplained, with(answer(), Indication::off, from_us, 5'005'000));
}

TEST_F(OneCause, a_side_that_goes_on_in_silence_is_unexplained) {
    expect(SoakKind::false_show, Cause::unexplained, with(answer(), Indication::right, 8'000'000, 8'010'000));
}

TEST_F(OneCause, a_light_that_is_never_shown_is_unexplained) {
    expect(SoakKind::missed, Cause::unexplained, with(answer(), Indication::off, 9'000'000, 14'000'000));
}

TEST_F(OneCause, a_release_beyond_the_hold_is_unexplained_and_one_at_the_hold_is_none) {
    const TimeUs last_us = 5'500'000 + TimeUs{soak_.scenario.decoder.hold_us}; // from the last light
    EXPECT_TRUE(findings(soak_, ride(), with(answer(), Indication::left, 5'900'000, last_us)).empty());
    expect(SoakKind::late_release, Cause::unexplained,
           with(answer(), Indication::left, 5'900'000, last_us + 10));
}

TEST_F(OneCause, a_fixed_hold_below_the_dark_gap_is_asked_too_much) {
    soak_.scenario.decoder.rule = core::HoldRule::fixed;
    soak_.scenario.decoder.cut_short = false;
    soak_.scenario.decoder.hold_us = 499'999;
    expect(SoakKind::dropout, Cause::gap_beyond_hold, answer());
}

TEST_F(OneCause, a_flash_shorter_than_bounce_and_settle_is_asked_too_much) {
    soak_.scenario.rider.script[2].for_us = 4'000;
    expect(SoakKind::missed, Cause::too_short_to_settle, answer());
}

TEST_F(OneCause, a_dark_gap_longer_than_the_learned_ones_is_a_price) {
    soak_.scenario.flasher.rate_per_min = 120;
    host::Ride ride = this->ride();
    // the flash from 4.0 to 4.25 s is not there, and nobody has planted that
    std::erase_if(ride.trace.edges,
                  [](const host::Edge& edge) { return 4'000'000 <= edge.t_us && edge.t_us <= 4'250'000; });
    const auto found = findings(soak_, ride, host::decode(ride.trace, {}));
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].kind, SoakKind::dropout);
    EXPECT_EQ(found[0].cause, Cause::gap_beyond_learned);
}

TEST_F(OneCause, a_gap_that_only_the_riders_switch_made_is_not_learned) {
    soak_.scenario.flasher.rate_per_min = 120;
    soak_.scenario.decoder.spread = false;
    auto& script = soak_.scenario.rider.script;
    const host::RiderStep left = script[0];
    host::RiderStep pause = script[1];
    pause.for_us = 500'000;
    script.insert(script.begin(), {left, pause});
    const host::Ride ride = this->ride();
    // left again: the gap from 5.75 to 6.5 s has the switch in it, so 250 ms and guard are all that is sure;
    // the light at 9.0 s does not count yet when the side goes, 265 ms after the light before
    const auto lost = with(host::decode(ride.trace, soak_.scenario.decoder), Indication::off,
                           9'005'000 + 10'000, 9'020'000);
    const auto found = findings(soak_, ride, lost);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].cause, Cause::gap_beyond_learned);
}

TEST_F(OneCause, a_light_that_hardly_stands_for_a_blink_is_asked_too_much) {
    soak_.scenario.flasher.rate_per_min = 250;
    soak_.scenario.flasher.duty_percent = 18; // lit for 43 ms, of which settle leaves 38
    const host::Ride ride = this->ride();
    // the light at 4.08 s goes at 4.123; once its beat is over the side is taken for cancelled
    const auto found =
        findings(soak_, ride, with(host::decode(ride.trace, {}), Indication::off, 4'140'000, 4'150'000));
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].cause, Cause::too_short_to_settle);
}

TEST_F(OneCause, a_rhythm_that_changes_is_named_for_2_s_and_only_then) {
    soak_.scenario.flasher.second_rhythm = {.rate_factor = 0.7, .from_flash = 3, .to_flash = 4, .used = true};
    const host::Ride ride = this->ride();
    ASSERT_EQ(ride.planted.size(), 2u + 0u) << "of the left turn; the right one has two flashes";
    const TimeUs from_us = ride.planted[0].from_us;
    const TimeUs back_us = ride.planted[1].to_us;
    for (const auto& [lost_us, cause] : {std::pair{from_us - 1'000, Cause::unexplained},
                                         {from_us + 100'000, Cause::rhythm_changed},
                                         {back_us + 100'000, Cause::rhythm_changed}}) {
        const auto found = findings(
            soak_, ride, with(host::decode(ride.trace, {}), Indication::off, lost_us, lost_us + 400));
        ASSERT_EQ(found.size(), 1u) << lost_us;
        EXPECT_EQ(found[0].cause, cause) << lost_us;
    }
}

TEST_F(OneCause, a_rhythm_that_stays_changed_explains_nothing) {
    soak_.scenario.flasher.second_rhythm = {.rate_factor = 0.9, .used = true}; // from the first flash on
    const host::Ride ride = this->ride();
    const auto found =
        findings(soak_, ride, with(host::decode(ride.trace, {}), Indication::off, 4'700'000, 4'700'400));
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].cause, Cause::unexplained);
}

TEST_F(OneCause, a_group_a_missing_flash_a_fumble_and_a_touch_are_named) {
    const auto cause_near = [this](Planted::What what) {
        const host::Ride ride = this->ride();
        const auto planted = std::find_if(ride.planted.begin(), ride.planted.end(),
                                          [what](const auto& one) { return one.what == what; });
        EXPECT_NE(planted, ride.planted.end());
        // shown a little later than it should be, and where nobody asks for it
        const TimeUs at_us = planted->to_us + 100'000;
        const bool asked =
            std::any_of(ride.truth.requests.begin(), ride.truth.requests.end(), [at_us](const auto& request) {
                return request.start_us <= at_us && at_us < request.end_us;
            });
        const auto found = findings(soak_, ride,
                                    with(host::decode(ride.trace, {}),
                                         asked ? Indication::off : Indication::right, at_us, at_us + 400));
        EXPECT_FALSE(found.empty());
        return found.empty() ? Cause::unexplained : found.back().cause;
    };
    soak_.scenario.flasher.cycle_us = {300'000, 300'000, 300'000, 500'000};
    EXPECT_EQ(cause_near(Planted::What::group), Cause::rhythm_changed);
    soak_ = plain_bike();
    soak_.scenario.flasher.missing_flash_percent = 30;
    EXPECT_EQ(cause_near(Planted::What::missing_flash), Cause::flash_missing);
    soak_ = plain_bike();
    soak_.scenario.rider.script.insert(soak_.scenario.rider.script.begin(), soak_.scenario.rider.script[1]);
    soak_.scenario.rider.fumble = {.percent = 100, .for_us = 60'000, .before_us = 300'000};
    EXPECT_EQ(cause_near(Planted::What::fumble), Cause::fumbled);
    soak_ = plain_bike();
    soak_.scenario.rider.touch = {.percent = 100, .after_us = 700'000, .for_us = 50'000, .other_side = false};
    EXPECT_EQ(cause_near(Planted::What::touch), Cause::touched);
}

/// A hazard of six flashes of 500 ms from 1 s on, 500 ms dark, as `left_lit` has the left line in the fourth
/// flash, at 4 s; the right line is lit from 4.0 to 4.5 s.
class HazardSide : public OneCause {
protected:
    HazardSide() {
        soak_.scenario.decoder.rule = core::HoldRule::fixed; // nothing else may end a side here
        soak_.scenario.decoder.cut_short = false;
        soak_.scenario.decoder.hold_us = 2'000'000;
        soak_.scenario.rider.script = {{.show = Indication::off, .for_us = 1e6},
                                       {.show = Indication::hazard, .for_us = 5.8e6},
                                       {.show = Indication::off, .for_us = 3e6}};
    }

    /// The left side is lost at `lost_us`, when its light in that flash has gone at `fell_us`.
    Cause cause(TimeUs lost_us, TimeUs fell_us) {
        host::Ride ride = this->ride();
        auto& edges = ride.trace.edges;
        for (host::Edge& edge : edges)
            if (edge.t_us == 4'000'000 && fell_us == 4'000'000) edge.lines = core::Lines(6);
        const auto fall = std::find_if(edges.begin(), edges.end(),
                                       [](const host::Edge& edge) { return edge.t_us == 4'500'000; });
        if (fell_us > 4'000'000) edges.insert(fall, {fell_us, core::Lines(6)});
        const auto found = findings(soak_, ride, with(answer(), Indication::right, lost_us, lost_us + 1'000));
        const auto left = std::find_if(found.begin(), found.end(), [lost_us](const auto& finding) {
            return finding.side == core::Side::left && finding.t_us == lost_us;
        });
        EXPECT_NE(left, found.end());
        return left == found.end() ? Cause::unexplained : left->cause;
    }
};

TEST_F(HazardSide, that_stays_dark_goes_once_the_other_light_has_stood_for_250_ms) {
    EXPECT_EQ(cause(4'005'000 + 250'000, 4'000'000), Cause::flashed_alone);
    EXPECT_EQ(cause(4'005'000 + 251'000, 4'000'000), Cause::unexplained);
}

TEST_F(HazardSide, that_is_dark_for_1_s_in_which_the_other_one_flashes_goes) {
    EXPECT_EQ(cause(4'500'000, 4'000'000), Cause::flashed_alone);
    EXPECT_EQ(cause(4'499'000, 4'000'000), Cause::unexplained);
}

TEST_F(HazardSide, that_is_dark_for_three_quarters_of_the_other_light_goes_as_that_ends) {
    const TimeUs ends_us = 4'505'000; // the other light, of 500 ms from 4.005 s on
    EXPECT_EQ(cause(ends_us, ends_us - 375'000), Cause::flashed_alone);
    EXPECT_EQ(cause(ends_us, ends_us - 374'000), Cause::unexplained);
    EXPECT_EQ(cause(ends_us - 1'000, ends_us - 400'000), Cause::unexplained) << "it has not ended";
}

TEST_F(OneCause, an_overlap_is_judged_when_both_sides_are_shown) {
    // right is asked for from 9 s; left comes back beside it at 10 s, 1 s later
    soak_.scenario.rider.script[1].for_us = 2e6;
    const host::Trace undisturbed = ride().trace;
    host::Ride ride = this->ride();
    auto& edges = ride.trace.edges;
    const auto flash = std::find_if(edges.begin(), edges.end(),
                                    [](const host::Edge& edge) { return edge.t_us == 9'000'000; });
    ASSERT_NE(flash, edges.end());
    const core::Lines right = flash->lines;
    edges.insert(flash + 1, {{9'100'000, right.with(core::Lines::left, true)}, {9'150'000, right}});
    host::SoakVerdict verdict;
    host::judge_soak_ride(soak_, ride, with(answer(), Indication::hazard, 9'105'000, 9'400'000), verdict,
                          &undisturbed);
    ASSERT_EQ(verdict.findings.size(), 2u);
    for (const host::SoakFinding& finding : verdict.findings)
        EXPECT_EQ(finding.cause, Cause::line_disturbed)
            << host::soak_kinds[static_cast<std::size_t>(finding.kind)];
}

} // namespace
} // namespace winkhold::testing
