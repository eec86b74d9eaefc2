// Two answers side by side: each kind, each allowance to the microsecond.
#include "hindsight/support.hpp"

namespace winkhold::testing {
namespace {

using host::Disagreement;
using host::Timeline;

constexpr auto off = Indication::off;
constexpr auto left = Indication::left;
constexpr auto right = Indication::right;
constexpr auto hazard = Indication::hazard;

const host::Allowance allowed{.acquire_us = 45, .release_us = {400, 500}, .overlap_us = 50, .early_us = 40};

std::vector<host::Disagreeing> compare(const Timeline& causal, const Timeline& smoother) {
    return host::disagreements(causal, smoother, allowed, 10'000);
}
std::vector<host::Disagreeing> one(TimeUs from_us, TimeUs to_us, Indication causal, Indication smoother,
                                   Disagreement kind) {
    return {{from_us, to_us, causal, smoother, kind}};
}

const Timeline left_from_1_to_3{{0, off}, {1'000, left}, {3'000, off}};

TEST(Disagreements, SameAnswersHaveNone) {
    EXPECT_TRUE(compare(left_from_1_to_3, left_from_1_to_3).empty());
    EXPECT_TRUE(compare({}, {{0, off}}).empty());
}

TEST(Disagreements, AcquireIsLateAfterItsAllowance) {
    EXPECT_TRUE(compare({{0, off}, {1'045, left}, {3'000, off}}, left_from_1_to_3).empty());
    EXPECT_EQ(compare({{0, off}, {1'046, left}, {3'000, off}}, left_from_1_to_3),
              one(1'045, 1'046, off, left, Disagreement::late_acquire));
    EXPECT_EQ(compare({{0, off}}, left_from_1_to_3),
              one(1'045, 3'000, off, left, Disagreement::late_acquire));
}

TEST(Disagreements, ReleaseIsLateAfterItsAllowanceOnEachSide) {
    EXPECT_TRUE(compare({{0, off}, {1'000, left}, {3'400, off}}, left_from_1_to_3).empty());
    EXPECT_EQ(compare({{0, off}, {1'000, left}, {3'401, off}}, left_from_1_to_3),
              one(3'400, 3'401, left, off, Disagreement::late_release));
    EXPECT_EQ(compare({{0, off}, {1'000, right}}, {{0, off}, {1'000, right}, {3'000, off}}),
              one(3'500, 10'000, right, off, Disagreement::late_release));
}

TEST(Disagreements, DropoutHasNoAllowanceButAtTheEnd) {
    EXPECT_EQ(compare({{0, off}, {1'000, left}, {2'000, off}, {2'001, left}, {3'000, off}}, left_from_1_to_3),
              one(2'000, 2'001, off, left, Disagreement::dropout));
    EXPECT_EQ(compare({{0, off}, {1'000, left}, {2'959, off}}, left_from_1_to_3),
              one(2'959, 3'000, off, left, Disagreement::dropout));
    EXPECT_TRUE(compare({{0, off}, {1'000, left}, {2'960, off}}, left_from_1_to_3).empty());
}

TEST(Disagreements, AHazardsSidesGoingOneAfterTheOtherAreOneDropout) {
    EXPECT_EQ(compare({{0, off},
                       {1'000, hazard},
                       {2'000, right},
                       {2'002, off},
                       {2'300, left},
                       {2'303, hazard},
                       {5'000, off}},
                      {{0, off}, {1'000, hazard}, {5'000, off}}),
              one(2'000, 2'303, off, hazard, Disagreement::dropout));
}

TEST(Disagreements, OverlapCountsFromTheOtherSidesStart) {
    const Timeline change{{0, off}, {1'000, left}, {3'000, off}, {3'070, right}, {6'000, off}};
    EXPECT_TRUE(
        compare({{0, off}, {1'000, left}, {3'075, hazard}, {3'120, right}, {6'000, off}}, change).empty());
    EXPECT_EQ(compare({{0, off}, {1'000, left}, {3'075, hazard}, {3'300, right}, {6'000, off}}, change),
              one(3'120, 3'300, hazard, right, Disagreement::overlap));
}

TEST(Disagreements, ASideThatCarriesOnAfterAHazardTellsNothing) {
    const Timeline change{{0, off}, {1'000, hazard}, {3'000, left}, {6'000, off}};
    EXPECT_TRUE(compare({{0, off}, {1'000, hazard}, {3'500, left}, {6'000, off}}, change).empty());
    EXPECT_EQ(compare({{0, off}, {1'000, hazard}, {3'501, left}, {6'000, off}}, change),
              one(3'500, 3'501, hazard, left, Disagreement::overlap));
}

TEST(Disagreements, AHazardsSideMayStayUntilTheOtherOneHasFlashedAlone) {
    host::Allowance carried = allowed;
    carried.carried_us = {300, 0};
    const Timeline right_goes_on{{0, off}, {1'000, hazard}, {3'000, right}, {6'000, off}};
    const auto shown_until = [&](TimeUs until_us, const Timeline& smoother) {
        return host::disagreements({{0, off}, {1'000, hazard}, {until_us, right}, {6'000, off}}, smoother,
                                   carried, 10'000);
    };
    EXPECT_TRUE(shown_until(3'700, right_goes_on).empty());
    EXPECT_EQ(shown_until(3'701, right_goes_on), one(3'700, 3'701, hazard, right, Disagreement::overlap));
    const Timeline both_go{{0, off}, {1'000, hazard}, {3'000, off}, {3'500, right}, {6'000, off}};
    EXPECT_FALSE(shown_until(3'701, both_go).empty()) << "right begins anew: nothing carries on";
}

TEST(Disagreements, ReleaseMayTakeLongerAsLongAsTooLittleIsKnown) {
    host::Allowance unknown = allowed;
    unknown.unknown_release_us = 900;
    for (const auto& [known_from_us, until_us] : {std::pair{2'999, 3'400}, {3'000, 3'900}}) {
        unknown.unknown_until_us = known_from_us;
        const auto found = [&](TimeUs off_us) {
            return host::disagreements({{0, off}, {1'000, left}, {off_us, off}}, left_from_1_to_3, unknown,
                                       10'000);
        };
        EXPECT_TRUE(found(until_us).empty());
        EXPECT_EQ(found(until_us + 1), one(until_us, until_us + 1, left, off, Disagreement::late_release));
    }
}

TEST(Disagreements, ASideThatNobodyAskedForIsAFalseShow) {
    EXPECT_EQ(compare({{0, off}, {1'000, left}, {3'000, off}, {3'010, left}, {3'020, off}}, left_from_1_to_3),
              one(3'010, 3'020, left, off, Disagreement::false_show));
    EXPECT_EQ(
        compare({{0, off}, {1'000, left}, {2'000, hazard}, {2'500, left}, {3'000, off}}, left_from_1_to_3),
        one(2'000, 2'500, hazard, left, Disagreement::false_show));
}

} // namespace
} // namespace winkhold::testing
