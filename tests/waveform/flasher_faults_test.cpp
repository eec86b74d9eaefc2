#include "waveform/support.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::test;
using host::SideChange;
using List = std::vector<Change>;

TEST(FlasherFault, AWeldedContactStaysLitUntilTheRiderCancels) {
    host::Scenario s = clean();
    s.flasher.stays_on_from_flash = 2;
    s.rider.script = {for_time(Indication::left, 5'300'000), for_time(Indication::off, 700'000),
                      for_time(Indication::right, 2'000'000), for_time(Indication::off, 1'000'000)};
    EXPECT_EQ(changes_of(s),
              (List{{0, 1}, {500'000, 0}, {1'000'000, 1}, {5'300'000, 0}, {6'000'000, 2}, {8'000'000, 0}}));
}

TEST(FlasherFault, AFreeRunningFlasherThatStaysOnIsStillGated) {
    host::Scenario s = clean(SideChange::free_running);
    s.flasher.stays_on_from_flash = 1;
    s.rider.script = {for_time(Indication::left, 4'000'000), for_time(Indication::off, 700'000),
                      for_time(Indication::right, 2'000'000), for_time(Indication::off, 1'000'000)};
    EXPECT_EQ(changes_of(s), (List{{0, 1}, {4'000'000, 0}, {4'700'000, 2}, {6'700'000, 0}}));
}

TEST(FlasherFault, TheLampComesBackAfterSoManyFlashes) {
    host::Scenario s = clean();
    s.flasher.lamp_out_after_flashes = 1;
    s.flasher.lamp_out_for_flashes = 2;
    s.flasher.lamp_out_rate_factor = 2;
    s.flasher.lamp_out_duty_percent = 40;
    s.rider.script = {for_time(Indication::left, 2'900'000), for_time(Indication::off, 1'000'000)};
    EXPECT_EQ(changes_of(s), (List{{0, 1},
                                   {500'000, 0},
                                   {1'000'000, 1},
                                   {1'200'000, 0},
                                   {1'500'000, 1},
                                   {1'700'000, 0},
                                   {2'000'000, 1},
                                   {2'500'000, 0}}));
}

TEST(FlasherFault, APatternRepeatsAndStartsAnewWithEachRequest) {
    host::Scenario s = clean();
    s.flasher.cycle_us = {200'000, 250'000, 100'000, 850'000};
    s.rider.script = {for_time(Indication::left, 1'500'000), for_time(Indication::off, 500'000),
                      for_time(Indication::left, 300'000), for_time(Indication::off, 500'000)};
    EXPECT_EQ(changes_of(s), (List{{0, 1},
                                   {200'000, 0},
                                   {450'000, 1},
                                   {550'000, 0},
                                   {1'400'000, 1},
                                   {1'500'000, 0},
                                   {2'000'000, 1},
                                   {2'200'000, 0}}));
}

TEST(FlasherFault, MissingFlashesAreAsFrequentAsAskedAndNeverTheFirst) {
    host::Scenario s = clean();
    s.flasher.missing_flash_percent = 5;
    s.rider.script = {for_time(Indication::off, 1'000), for_time(Indication::left, 10'000'000'000)};
    const List list = changes_of(s);
    EXPECT_EQ(list[1], (Change{1'000, 1}));
    EXPECT_NEAR(static_cast<double>(list.size() - 1) / 2, 9'500, 110) << "10,000 flashes, 5 sigma";
}

TEST(FlasherFault, ATipIsCarriedOnForThreeFlashes) {
    host::Scenario s = clean();
    s.flasher.tip_flashes = 3;
    s.rider.script = {for_time(Indication::left, 200'000), for_time(Indication::off, 5'000'000)};
    host::RideMaker maker(s);
    const host::Ride& ride = maker.make(1, 0);
    EXPECT_EQ(changes(ride),
              (List{{0, 1}, {500'000, 0}, {1'000'000, 1}, {1'500'000, 0}, {2'000'000, 1}, {2'500'000, 0}}));
    EXPECT_EQ(ride.truth.requests[0].end_us, 2'500'000) << "asked for until its last light";
}

TEST(FlasherFault, ATipEndsWhenTheOtherSideIsAskedFor) {
    host::Scenario s = clean();
    s.flasher.tip_flashes = 3;
    s.rider.script = {for_time(Indication::left, 200'000), for_time(Indication::off, 1'000'000),
                      for_time(Indication::right, 2'800'000), for_time(Indication::off, 1'000'000)};
    host::RideMaker maker(s);
    const host::Ride& ride = maker.make(1, 0);
    EXPECT_EQ(changes(ride), (List{{0, 1},
                                   {500'000, 0},
                                   {1'000'000, 1},
                                   {1'200'000, 0},
                                   {1'270'000, 2},
                                   {1'770'000, 0},
                                   {2'270'000, 2},
                                   {2'770'000, 0},
                                   {3'270'000, 2},
                                   {3'770'000, 0}}));
    EXPECT_EQ(ride.truth.requests[0].end_us, 1'200'000);
}

TEST(FlasherFault, ASwitchThatMakesBeforeItBreaksLightsBothSides) {
    host::Scenario s = clean();
    s.rider.transit_us = -50'000;
    s.rider.script = {for_time(Indication::left, 1'200'000), for_time(Indication::right, 1'000'000),
                      for_time(Indication::off, 1'000'000)};
    EXPECT_EQ(changes_of(s),
              (List{{0, 1}, {500'000, 0}, {1'000'000, 1}, {1'200'000, 3}, {1'250'000, 2}, {1'700'000, 0}}));
}

TEST(FlasherFault, AHazardDuringATurnRestartsTheRhythmOrJoinsIt) {
    host::Scenario s = clean();
    s.rider.script = {for_time(Indication::left, 1'200'000), for_time(Indication::hazard, 1'000'000),
                      for_time(Indication::off, 1'000'000)};
    EXPECT_EQ(changes_of(s), (List{{0, 1}, {500'000, 0}, {1'000'000, 1}, {1'200'000, 3}, {1'700'000, 0}}));
    s.flasher.side_change = SideChange::free_running;
    host::RideMaker maker(s);
    for (std::uint64_t trial = 0; trial < 20; ++trial)
        for (const Change& change : changes(maker.make(1, trial)))
            EXPECT_TRUE(change.turn == (change.t_us < 1'200'000 ? 1 : 3) || change.turn == 0) << change;
}

TEST(FlasherDrift, GrowsThePeriodByItsShareOfTheFirstLengthAMinute) {
    host::Scenario s = clean();
    s.flasher.drift_percent_per_min = 30; // 0.5 % a second; each cycle by the time of its beginning
    s.rider.script = {for_time(Indication::left, 3'500'000), for_time(Indication::off, 1'000'000)};
    EXPECT_EQ(changes_of(s), (List{{0, 1},
                                   {500'000, 0},
                                   {1'000'000, 1},
                                   {1'502'500, 0},
                                   {2'005'000, 1},
                                   {2'510'013, 0},
                                   {3'015'026, 1},
                                   {3'500'000, 0}}));
}

} // namespace
