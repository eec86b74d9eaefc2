// Our upper bounds against published tables of exact binomial limits.
#include "winkhold/base/statistics/binomial.hpp"

#include <gtest/gtest.h>

namespace host = winkhold::host;

TEST(ClopperPearson, HandbookWorkedExample) {
    // NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.1: 4 defects in 20, two-sided 90 % limits
    // 0.071354 and 0.401029 (from memory); the upper one is the one-sided 95 % limit.
    EXPECT_NEAR(host::upper95(4, 20), 0.401029, 1e-6);
}

TEST(ClopperPearson, TabulatedLimits) {
    // Upper one-sided 95 % limits as statistics textbooks tabulate them (from memory, three to four digits).
    EXPECT_NEAR(host::upper95(0, 10), 0.2589, 5e-5);
    EXPECT_NEAR(host::upper95(1, 10), 0.3942, 5e-5);
    EXPECT_NEAR(host::upper95(3, 10), 0.6066, 5e-5);
    EXPECT_NEAR(host::upper95(1, 20), 0.2161, 5e-5);
    EXPECT_NEAR(host::upper95(0, 50), 0.0582, 5e-5);
    EXPECT_NEAR(host::upper95(5, 100), 0.1023, 5e-5);
}

TEST(ClopperPearson, RuleOfThree) {
    // none in n: about 3/n (Hanley and Lippman-Hand, JAMA 249 (1983) 1743, from memory)
    EXPECT_NEAR(host::upper95(0, 1'000'000) * 1e6, 2.9957, 1e-3);
    EXPECT_EQ(host::fewest_tries(1e-4), 29'956);
    EXPECT_LE(host::upper95(0, 29'956), 1e-4);
    EXPECT_GT(host::upper95(0, 29'955), 1e-4);
}

TEST(ClopperPearson, NothingTriedOrAllHitProvesNothing) {
    EXPECT_EQ(host::upper95(0, 0), 1);
    EXPECT_EQ(host::upper95(7, 7), 1);
}

TEST(ClopperPearson, MostHitsIsTheLastThatMeetsTheTarget) {
    const std::int64_t most = host::most_hits(1e-3, 100'000);
    EXPECT_LE(host::upper95(most, 100'000), 1e-3);
    EXPECT_GT(host::upper95(most + 1, 100'000), 1e-3);
    EXPECT_EQ(host::most_hits(1e-4, 29'955), -1);
    EXPECT_EQ(host::most_hits(1e-4, 29'956), 0);
}
