// Where an answer departs from the expected one: kinds, and tolerance to the microsecond.
#include "winkhold/taps/verify/difference.hpp"

#include <gtest/gtest.h>

namespace winkhold::testing {
namespace {

using core::Indication;
using host::Difference;
using host::first_difference;
using host::Timeline;
using Kind = host::Difference::Kind;

const Timeline expected{{0, Indication::off}, {5'000, Indication::left}, {900'000, Indication::off}};

Timeline left_at(host::TimeUs t_us) {
    Timeline answer = expected;
    answer[1].t_us = t_us;
    return answer;
}

TEST(FirstDifference, AChangeMayBeEarlyOrLateByTheToleranceAndNoMore) {
    for (const host::TimeUs tolerance_us : {0, 1, 700}) {
        EXPECT_FALSE(first_difference(expected, left_at(5'000 + tolerance_us), tolerance_us));
        EXPECT_FALSE(first_difference(expected, left_at(5'000 - tolerance_us), tolerance_us));
        const auto late = first_difference(expected, left_at(5'001 + tolerance_us), tolerance_us);
        ASSERT_TRUE(late);
        EXPECT_EQ(late->kind, Kind::late);
        EXPECT_EQ(late->t_us(), 5'000);
        const auto early = first_difference(expected, left_at(4'999 - tolerance_us), tolerance_us);
        ASSERT_TRUE(early);
        EXPECT_EQ(early->kind, Kind::early);
        EXPECT_EQ(early->t_us(), 4'999 - tolerance_us);
        if (tolerance_us == 0) continue;
        EXPECT_FALSE(first_difference(expected, left_at(4'999 + tolerance_us), tolerance_us));
        EXPECT_FALSE(first_difference(expected, left_at(5'001 - tolerance_us), tolerance_us));
    }
}

TEST(FirstDifference, AnotherIndicationIsNoMatterOfTime) {
    Timeline answer = expected;
    answer[1].indication = Indication::hazard;
    const auto found = first_difference(expected, answer, 1'000'000);
    ASSERT_TRUE(found);
    EXPECT_EQ(found->kind, Kind::other);
    EXPECT_EQ(found->expected, expected[1]);
    EXPECT_EQ(found->got, answer[1]);
}

TEST(FirstDifference, AChangeThatNeverComesIsMissingAndOneTooManyIsExtra) {
    const Timeline shorter(expected.begin(), expected.end() - 1);
    const auto missing = first_difference(expected, shorter, 0);
    ASSERT_TRUE(missing);
    EXPECT_EQ(missing->kind, Kind::missing);
    EXPECT_EQ(missing->expected, expected[2]);
    EXPECT_EQ(missing->t_us(), 900'000);
    const auto extra = first_difference(shorter, expected, 0);
    ASSERT_TRUE(extra);
    EXPECT_EQ(extra->kind, Kind::extra);
    EXPECT_EQ(extra->got, expected[2]);
    EXPECT_EQ(extra->t_us(), 900'000);
}

TEST(FirstDifference, TheFirstOfSeveralIsTold) {
    Timeline answer = left_at(6'000);
    answer[2].t_us = 1;
    EXPECT_EQ(first_difference(expected, answer, 0)->expected, expected[1]);
}

} // namespace
} // namespace winkhold::testing
