// A second rhythm, hum, half waves, and a thumb that misses.
#include "waveform/support.hpp"

#include "winkhold/measure/waveform/truth.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::test;
using host::SideChange;
using List = std::vector<Change>;

/// A second rhythm of 250 ms lit, 250 ms dark, beside the usual 500 and 500.
host::Scenario two_rhythms() {
    host::Scenario s = clean();
    s.flasher.second_rhythm = {.rate_factor = 2, .used = true};
    return s;
}

TEST(SecondRhythm, InHazardsLeavesTurnsAlone) {
    host::Scenario s = two_rhythms();
    s.flasher.second_rhythm.in = host::SecondRhythm::In::hazards;
    s.rider.script = {for_time(Indication::left, 1'000'000), for_time(Indication::off, 1'000'000),
                      for_time(Indication::hazard, 900'000), for_time(Indication::off, 1'000'000)};
    EXPECT_EQ(changes_of(s),
              (List{{0, 1}, {500'000, 0}, {2'000'000, 3}, {2'250'000, 0}, {2'500'000, 3}, {2'750'000, 0}}));
}

TEST(SecondRhythm, TheFirstFlashesOfEachRequestWithItsOwnShareLit) {
    host::Scenario s = two_rhythms();
    s.flasher.second_rhythm.to_flash = 1;
    s.flasher.second_rhythm.duty_percent = 40;
    s.rider.script = {for_time(Indication::left, 1'400'000), for_time(Indication::off, 600'000),
                      for_time(Indication::right, 400'000), for_time(Indication::off, 1'000'000)};
    EXPECT_EQ(changes_of(s),
              (List{{0, 1}, {200'000, 0}, {500'000, 1}, {1'000'000, 0}, {2'000'000, 2}, {2'200'000, 0}}));
}

TEST(SecondRhythm, FromAFlashOfTheRequestOn) {
    host::Scenario s = two_rhythms();
    s.flasher.second_rhythm.from_flash = 2;
    s.rider.script = {for_time(Indication::left, 1'900'000), for_time(Indication::off, 1'000'000)};
    EXPECT_EQ(changes_of(s),
              (List{{0, 1}, {500'000, 0}, {1'000'000, 1}, {1'250'000, 0}, {1'500'000, 1}, {1'750'000, 0}}));
}

TEST(SecondRhythm, OnceAfterSoManyFlashesOfTheRideOrInTurns) {
    host::Scenario s = two_rhythms();
    s.flasher.second_rhythm.after_flashes = 2;
    s.rider.script = {for_time(Indication::left, 4'900'000), for_time(Indication::off, 1'000'000)};
    const auto rises = [](const host::Scenario& scenario) {
        std::vector<TimeUs> list;
        for (const Change& change : changes_of(scenario))
            if (change.turn != 0) list.push_back(change.t_us);
        return list;
    };
    using Times = std::vector<TimeUs>;
    EXPECT_EQ(rises(s),
              (Times{0, 1'000'000, 2'000'000, 2'500'000, 3'000'000, 3'500'000, 4'000'000, 4'500'000}));
    s.flasher.second_rhythm.in_turns = true;
    EXPECT_EQ(rises(s), (Times{0, 1'000'000, 2'000'000, 2'500'000, 3'000'000, 4'000'000}));
}

TEST(SecondRhythm, SharesOfFlashesAndOfRequestsAreAsAsked) {
    for (const bool of_requests : {false, true}) {
        host::Scenario s = two_rhythms();
        (of_requests ? s.flasher.second_rhythm.requests_percent : s.flasher.second_rhythm.flashes_percent) =
            30;
        s.rider.script = {for_time(Indication::left, 400'000), for_time(Indication::off, 600'000)};
        s.rider.repeat = 1'000;
        int quick = 0;
        const List list = changes_of(s);
        for (std::size_t i = 0; i + 1 < list.size(); ++i)
            quick += list[i].turn == 1 && list[i + 1].t_us - list[i].t_us == 250'000;
        EXPECT_NEAR(quick, 300, 75) << "5 sigma";
    }
}

TEST(SecondRhythm, EveryFlasherTakesIt) {
    for (const SideChange model : host::all_side_changes) {
        host::Scenario s = two_rhythms();
        s.flasher.side_change = model;
        s.rider.script = {for_time(Indication::left, 20'000'000), for_time(Indication::off, 2'000'000)};
        EXPECT_NEAR(static_cast<double>(changes_of(s).size()), 80, 3) << host::name(model);
    }
}

TEST(Hum, ComesInBurstsOnTheOpenTapAlone) {
    host::Scenario s = clean();
    s.rider.script = {for_time(Indication::left, 600'000), for_time(Indication::off, 1'000'000)};
    s.taps.broken = {{.tap = core::Side::right,
                      .hum_hz = 50,
                      .hum_percent = 30,
                      .hum_every_us = 700'000,
                      .hum_for_us = 50'000}};
    EXPECT_EQ(changes_of(s), (List{{0, 1},
                                   {500'000, 0},
                                   {700'000, 2},
                                   {706'000, 0},
                                   {720'000, 2},
                                   {726'000, 0},
                                   {740'000, 2},
                                   {746'000, 0},
                                   {1'450'000, 2},
                                   {1'456'000, 0},
                                   {1'470'000, 2},
                                   {1'476'000, 0},
                                   {1'490'000, 2},
                                   {1'496'000, 0}}));
}

TEST(HalfWaves, ChopBothLinesInPhase) {
    host::Scenario s = clean();
    s.taps.half_wave_hz = 25;
    s.rider.script = {for_time(Indication::hazard, 600'000), for_time(Indication::off, 1'000'000)};
    const List list = changes_of(s);
    EXPECT_NEAR(static_cast<double>(list.size()), 25, 2) << "500 ms, 25 a second";
    for (std::size_t i = 1; i + 2 < list.size(); ++i) {
        EXPECT_TRUE(list[i].turn == 0 || list[i].turn == 3);
        EXPECT_NEAR(static_cast<double>(list[i + 1].t_us - list[i].t_us), 20'000, 1);
    }
}

TEST(Thumb, AFumbledPressIsWhereTheRequestBegins) {
    host::Scenario s = clean();
    s.rider.fumble = {.percent = 100, .for_us = 100'000, .before_us = 200'000};
    s.rider.script = {for_time(Indication::off, 1'000'000), for_time(Indication::left, 600'000),
                      for_time(Indication::off, 600'000), for_time(Indication::right, 600'000),
                      for_time(Indication::off, 1'000'000)};
    host::RideMaker maker(s);
    const host::Ride& ride = maker.make(1, 0);
    EXPECT_EQ(changes(ride), (List{{0, 0},
                                   {700'000, 1},
                                   {800'000, 0},
                                   {1'000'000, 1},
                                   {1'500'000, 0},
                                   {2'200'000, 2},
                                   {2'700'000, 0}}))
        << "400 ms of silence leave no room for the second one";
    EXPECT_EQ(ride.truth.requests[0].start_us, 700'000);
    EXPECT_EQ(ride.truth.requests[0].first_light_us, 700'000);
    EXPECT_EQ(ride.truth.requests[0].end_us, 1'600'000);
    EXPECT_EQ(ride.truth.requests[1].start_us, 2'200'000);
}

TEST(Thumb, ATouchAfterACancelIsAskedForByNobody) {
    host::Scenario s = clean();
    s.rider.touch = {.percent = 100, .after_us = 300'000, .for_us = 40'000};
    s.rider.script = {for_time(Indication::left, 600'000),   for_time(Indication::off, 1'000'000),
                      for_time(Indication::hazard, 400'000), for_time(Indication::off, 600'000),
                      for_time(Indication::right, 400'000),  for_time(Indication::off, 390'000)};
    host::RideMaker maker(s);
    const host::Ride& ride = maker.make(1, 0);
    EXPECT_EQ(changes(ride), (List{{0, 1},
                                   {500'000, 0},
                                   {900'000, 1},
                                   {940'000, 0},
                                   {1'600'000, 3},
                                   {2'000'000, 0},
                                   {2'600'000, 2},
                                   {3'000'000, 0}}))
        << "none after a hazard, none where no 50 ms are left";
    EXPECT_EQ(ride.truth.requests.size(), 3u);
    s.rider.touch.other_side = true;
    EXPECT_EQ(changes_of(s)[2], (Change{900'000, 2}));
}

} // namespace
