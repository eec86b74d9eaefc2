// Causes rest on evidence: a fault that nothing in the ride accounts for stays unexplained.
#include "winkhold/measure/soak/cause.hpp"

#include <algorithm>
#include <gtest/gtest.h>

namespace winkhold::testing {
namespace {

using core::Indication;
using host::Cause;
using host::SoakKind;
using host::TimeUs;

/// 60 flashes/min, half lit, clean contacts; left for 6 s, a pause, right for 2 s, a pause.
host::SoakRide plain_bike() {
    host::SoakRide soak{host::SoakPopulation::as_set, {}, false};
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
    soak_.scenario.flasher.cycle_us = {200'000, 250'000, 200'000, 250'000, 200'000, 250'000,
                                       200'000, 250'000, 200'000, 250'000, 200'000, 850'000};
    expect(SoakKind::dropout, Cause::gap_beyond_learned, answer());
}

} // namespace
} // namespace winkhold::testing
