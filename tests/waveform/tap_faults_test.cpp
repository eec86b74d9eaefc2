#include "waveform/support.hpp"

#include "winkhold/measure/waveform/tap_faults.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::test;
using List = std::vector<Change>;

host::Scenario one_flash(Indication show = Indication::left) {
    host::Scenario s = clean();
    s.rider.script = {for_time(show, 600'000), for_time(Indication::off, 1'000'000)};
    return s;
}

TEST(TapFault, ABrokenTapReadsOneLevelForItsTime) {
    host::Scenario s = one_flash(Indication::hazard);
    s.taps.broken = {{core::Side::right, false, {}, 86'400e6}, {core::Side::left, true, 700'000, 200'000}};
    EXPECT_EQ(changes_of(s), (List{{0, 1}, {500'000, 0}, {700'000, 1}, {900'000, 0}}));
}

TEST(TapFault, AShortFromTheStartNeverGoesDark) {
    host::Scenario s = one_flash();
    s.taps.broken = {{core::Side::right, true, {}, 86'400e6}};
    EXPECT_EQ(changes_of(s), (List{{0, 3}, {500'000, 2}}));
}

TEST(TapFault, ChatterOpensTheClosedContactHalfTheTime) {
    host::Scenario s = one_flash();
    s.taps.chatter_every_us = 300'000;
    s.taps.chatter_for_us = 25'000;
    s.taps.chatter_hz = 100;
    EXPECT_EQ(changes_of(s), (List{{0, 1},
                                   {300'000, 0},
                                   {305'000, 1},
                                   {310'000, 0},
                                   {315'000, 1},
                                   {320'000, 0},
                                   {325'000, 1},
                                   {500'000, 0}}));
}

TEST(TapFault, PwmChopsTheLitPhaseAlone) {
    host::Scenario s = one_flash();
    s.taps.pwm_hz = 100;
    s.taps.pwm_percent = 30;
    const List list = changes_of(s);
    EXPECT_NEAR(static_cast<double>(list.size()), 101, 3) << "50 periods of two changes";
    for (std::size_t i = 3; i + 3 < list.size(); i += 2) {
        const std::size_t rise = list[i].turn == 1 ? i : i + 1;
        EXPECT_NEAR(static_cast<double>(list[rise + 1].t_us - list[rise].t_us), 3'000, 1);
    }
    EXPECT_LE(list.back().t_us, 500'000);
}

TEST(TapFault, FullPwmIsNoPwm) {
    host::Scenario s = one_flash();
    s.taps.pwm_hz = 100;
    s.taps.pwm_percent = 100;
    EXPECT_EQ(changes_of(s), (List{{0, 1}, {500'000, 0}}));
}

TEST(TapFault, ARunningLampChopsTheDark) {
    host::Scenario s = one_flash();
    s.taps.running_hz = 100;
    s.taps.running_percent = 30;
    TimeUs high_us = 0;
    const List list = changes_of(s);
    for (std::size_t i = 1; i + 1 < list.size(); ++i)
        if (list[i].t_us >= 550'000 && (list[i].turn & 1) != 0) high_us += list[i + 1].t_us - list[i].t_us;
    EXPECT_NEAR(static_cast<double>(high_us), 0.3 * 1'050'000, 6'000);
}

TEST(TapFault, TestPulsesComeOnTheDarkLine) {
    host::Scenario s = one_flash();
    s.taps.test_pulse_every_us = 400'000;
    s.taps.test_pulse_us = 2'000;
    // the one at 400 ms hides in the left side's light
    EXPECT_EQ(changes_of(s), (List{{0, 1},
                                   {400'000, 3},
                                   {402'000, 1},
                                   {500'000, 0},
                                   {800'000, 3},
                                   {802'000, 0},
                                   {1'200'000, 3},
                                   {1'202'000, 0}}));
}

TEST(TapFault, TapsAtOppositeEndsLightInTurn) {
    host::Scenario s = clean();
    s.taps.alternate = true;
    s.rider.script = {for_time(Indication::hazard, 1'600'000), for_time(Indication::off, 1'000'000)};
    EXPECT_EQ(changes_of(s), (List{{0, 1}, {500'000, 2}, {1'000'000, 1}, {1'500'000, 2}, {2'000'000, 0}}));
}

} // namespace
