// Decoders on the same rides: what counts as late, and figures known from outside.
#include "winkhold/measure/compare/compare.hpp"
#include "winkhold/measure/compare/rides.hpp"
#include "winkhold/measure/waveform/ride.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;

/// 5 flashes of 300 ms with 300 ms of dark between, one of them 400 ms, a part of a sixth flash, and silence.
host::Scenario five_flashes(int longer_gap = 0) {
    host::Scenario scenario;
    scenario.flasher.rate_per_min = 100;
    scenario.flasher.jitter_percent = 0;
    scenario.contacts.bounce_us = 0;
    for (int gap = 1; longer_gap > 0 && gap <= 9; ++gap)
        scenario.flasher.cycle_us.insert(scenario.flasher.cycle_us.end(),
                                         {300'000, gap == longer_gap ? 400'000 : 300'000});
    scenario.rider.script = {{.show = core::Indication::left, .by_flashes = true, .flashes = 5, .for_us = {}},
                             {.show = core::Indication::off, .flashes = {}, .for_us = 2'000'000}};
    return scenario;
}

TEST(Rides, FlashesAfterTheFirstThreeOfARequestAreLate) {
    const host::RidesFigures figures = host::compare_on_rides(five_flashes(), {}, 1, 1);
    EXPECT_EQ(figures.flashes, 6); // 5 and a part
    EXPECT_EQ(figures.late_flashes, 3);
}

TEST(Rides, ADropoutIsLateFromTheEndOfTheThirdLightOn) {
    for (const auto& [gap, late] : {std::pair{2, 0}, std::pair{3, 1}, std::pair{4, 1}}) {
        const host::RidesFigures figures =
            host::compare_on_rides(five_flashes(gap), {{"fixed", host::plain_hold(350'000)}}, 1, 1);
        EXPECT_EQ(figures.decoders[0].dropouts, 1) << "gap " << gap;
        EXPECT_EQ(figures.decoders[0].late_dropouts, late) << "gap " << gap;
    }
}

TEST(Rides, BothSidesOfAHazardCountTheirOwnThree) {
    host::Scenario scenario = five_flashes(3);
    scenario.rider.script[0].show = core::Indication::hazard;
    const host::RidesFigures figures =
        host::compare_on_rides(scenario, {{"fixed", host::plain_hold(350'000)}}, 1, 1);
    EXPECT_EQ(figures.late_flashes, 6);
    EXPECT_EQ(figures.decoders[0].late_dropouts, 2);
}

TEST(Rides, RidesAreAddedUntilThereAreEnoughFlashes) {
    EXPECT_EQ(host::compare_on_rides(five_flashes(), {}, 6, 1).flashes, 6);
    EXPECT_EQ(host::compare_on_rides(five_flashes(), {}, 7, 1).flashes, 12);
}

/// 3 whole flashes and a part of a fourth, three times: left, at once right, and after 2 s a hazard.
host::Scenario three_requests() {
    host::Scenario scenario = five_flashes();
    const auto ask = [](core::Indication show) {
        return host::RiderStep{.show = show, .by_flashes = true, .flashes = 3, .for_us = {}};
    };
    const host::RiderStep silence{.show = core::Indication::off, .flashes = {}, .for_us = 2'000'000};
    scenario.rider.script = {ask(core::Indication::left), ask(core::Indication::right), silence,
                             ask(core::Indication::hazard), silence};
    return scenario;
}

TEST(Rides, OnlyRequestsThatBeginAfterTheKnownFlashesAreJudged) {
    const auto plain = host::plain_hold(840'000);
    const auto judged = [&](int known) {
        return host::compare_on_rides(three_requests(), {{"fixed", plain}}, 1, 1, known);
    };
    const host::RidesFigures all = judged(0);
    EXPECT_EQ(all.flashes, 4 + 4 + 2 * 4);
    EXPECT_EQ(all.decoders[0].fresh_acquire.count, 3);
    EXPECT_EQ(all.decoders[0].change_acquire.count, 1);
    EXPECT_EQ(all.decoders[0].overlap.count, 1);
    EXPECT_EQ(all.bound.overlap.count, 1);
    EXPECT_EQ(all.decoders[0].early_release.count, 0);
    const host::RidesFigures after_one = judged(4);
    EXPECT_EQ(after_one.flashes, 4 + 2 * 4);
    EXPECT_EQ(after_one.decoders[0].fresh_acquire.count, 2);
    EXPECT_EQ(after_one.decoders[0].change_acquire.count, 1);
    EXPECT_EQ(after_one.decoders[0].overlap.count, 0) << "a change away from what is not judged";
    EXPECT_EQ(after_one.bound.overlap.count, 0);
    EXPECT_EQ(after_one.decoders[0].release.count, 3);
    EXPECT_EQ(after_one.bound.release.count, 3);
    EXPECT_EQ(after_one.decoders[0].early_release.count, 1);
    EXPECT_EQ(after_one.bound.early_release.count, 1);
    EXPECT_EQ(judged(5).flashes, 2 * 4);
    EXPECT_EQ(judged(8).flashes, 2 * 4);
}

TEST(Rides, ADecoderThatKnowsTheGapHoldsItFromTheFirstFlashOn) {
    host::Scenario scenario = five_flashes();
    scenario.rider.script[0].flashes = 0; // less than one flash
    const core::Settings settings;
    const host::RidesFigures figures =
        host::compare_on_rides(scenario, {{"usual", settings}, {"measured", settings, true}}, 1, 1);
    const host::TimeUs shorter_us = settings.hold_us - (300'000 * 5 / 4 + settings.guard_us);
    EXPECT_EQ(figures.decoders[0].release.max_us - figures.decoders[1].release.max_us, shorter_us);
}

// The mean release of a fixed hold H >= Toff after a cancel at a random phase is H - (1-D)^2 T / 2 (restart
// and free-running; H + T(2D-1)/2 whole-cycle): derived, see tests/outside/closed_forms_test.cpp for others.
TEST(Cells, MeanReleaseOfTheFixedHoldIsTheClosedForm) {
    for (const host::Cell& cell : host::all_cells()) {
        if (cell.jitter_percent != 0 || cell.side_change == host::SideChange::free_running) continue;
        host::Scenario scenario = host::cell_scenario(cell);
        scenario.contacts.bounce_us = 0;
        const host::RidesFigures figures =
            host::compare_on_rides(scenario, {{"fixed", host::plain_hold(840'000)}}, 60'000, 3);
        const double period_us = static_cast<double>(cell.period_us);
        const double duty = cell.duty_percent / 100.0;
        const double expected_us = cell.side_change == host::SideChange::whole_cycle
                                       ? 840'000 + period_us * (2 * duty - 1) / 2
                                       : 840'000 - (1 - duty) * (1 - duty) * period_us / 2;
        // 9,000 requests; the release of one varies by less than half a period
        EXPECT_NEAR(figures.decoders[0].release.mean_us, expected_us, 5 * period_us / 2 / 90)
            << cell.period_us;
    }
}

TEST(Cells, EveryCombinationIsThereOnce) {
    const std::vector<host::Cell> cells = host::all_cells();
    ASSERT_EQ(cells.size(), 81u);
    for (std::size_t i = 0; i < cells.size(); ++i)
        for (std::size_t k = i + 1; k < cells.size(); ++k)
            EXPECT_FALSE(cells[i].side_change == cells[k].side_change &&
                         cells[i].period_us == cells[k].period_us &&
                         cells[i].duty_percent == cells[k].duty_percent &&
                         cells[i].jitter_percent == cells[k].jitter_percent);
}

} // namespace
