// What planted faults (tests/mutation/) showed to be told by no other test of settling, windows and late
// steps.
#include "winkhold/core/core.hpp"

#include <gtest/gtest.h>

namespace winkhold::testing {
namespace {

TEST(LateSteps, OverTwoDeadlinesThatLieFartherApartThanTheStagesCanTell) {
    core::Decoder decoder{core::Settings{}};
    decoder.step({0}, core::Lines{core::Lines::left});
    decoder.step({5'000}, core::Lines{core::Lines::left});
    decoder.step({200'000}, core::Lines{});
    EXPECT_EQ(decoder.step({12'000'000}, core::Lines{}), core::Indication::off);
}

TEST(MomentGaps, AnAlarmThatIsNotSetIsNeverDueAndADeadlineIsReachedForHalfTheClock) {
    EXPECT_FALSE(core::Alarm{}.due({1}));
    EXPECT_TRUE(core::reached(core::Micros{0x7fffffff}, core::Micros{0}));
    EXPECT_FALSE(core::reached(core::Micros{0x80000000}, core::Micros{0}));
}

TEST(SettleGaps, APauseWithinThePwmGapIsTimedFromItsOwnBeginning) {
    core::Settings s;
    s.settle_us = 30'000;
    s.pwm_gap_us = 20'000;
    core::Decoder decoder{s};
    decoder.step({0}, core::Lines{core::Lines::left});
    decoder.step({15'000}, core::Lines{});
    decoder.step({25'000}, core::Lines{core::Lines::left});
    EXPECT_EQ(decoder.step({29'999}, core::Lines{core::Lines::left}), core::Indication::off);
    EXPECT_EQ(decoder.step({30'000}, core::Lines{core::Lines::left}), core::Indication::left);
}

TEST(FallWindowGaps, AShorterFallWindowIsNotStretchedByTheHandoverWindow) {
    core::Settings s;
    s.settle_us = 0;
    s.fall_window_us = 30'000;
    core::Decoder decoder{s};
    decoder.step({0}, core::Lines{core::Lines::left});
    decoder.step({300'000}, core::Lines{3});
    decoder.step({310'000}, core::Lines{core::Lines::right});
    EXPECT_EQ(decoder.step({339'999}, core::Lines{core::Lines::right}), core::Indication::hazard);
    EXPECT_EQ(decoder.step({340'000}, core::Lines{core::Lines::right}), core::Indication::right);
}

core::Decoder unsettled() {
    core::Settings s;
    s.settle_us = 0;
    return core::Decoder{s};
}

TEST(FallWindowGaps, BothSidesDarkEndIt) {
    core::Decoder decoder = unsettled();
    decoder.step({0}, core::Lines{3});
    decoder.step({300'000}, core::Lines{core::Lines::right});
    decoder.step({350'000}, core::Lines{});
    decoder.step({365'000}, core::Lines{core::Lines::right}); // carries its flash on
    EXPECT_EQ(decoder.step({400'000}, core::Lines{core::Lines::right}), core::Indication::hazard);
}

TEST(HandoverGaps, ASideThatIsLitAgainWhenTheWindowEndsStays) {
    core::Decoder decoder = unsettled();
    decoder.step({0}, core::Lines{3});
    decoder.step({300'000}, core::Lines{core::Lines::left});
    decoder.step({390'000}, core::Lines{});
    decoder.step({395'000}, core::Lines{core::Lines::right});
    decoder.step({400'000}, core::Lines{3}); // carries its flash on
    EXPECT_EQ(decoder.step({460'000}, core::Lines{3}), core::Indication::hazard);
}

} // namespace
} // namespace winkhold::testing
