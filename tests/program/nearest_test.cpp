// The word that was meant.
#include "winkhold/base/nearest.hpp"

#include <array>
#include <gtest/gtest.h>
#include <string>

namespace {

using winkhold::base::did_you_mean;
using winkhold::base::nearest;

constexpr std::array<std::string_view, 5> known{"decode", "sweep", "fit", "--hold", "--hold-rule"};

TEST(Nearest, FindsAWordOneChangeAway) {
    EXPECT_EQ(nearest("decod", known), "decode");   // a letter less
    EXPECT_EQ(nearest("deccode", known), "decode"); // one more
    EXPECT_EQ(nearest("decude", known), "decode");  // another one
    EXPECT_EQ(nearest("sewep", known), "sweep");    // neighbours swapped
    EXPECT_EQ(nearest("--holt", known), "--hold");
}

TEST(Nearest, AWordThatIsKnownIsItsOwnNearest) {
    for (const std::string_view word : known)
        EXPECT_EQ(nearest(word, known), word);
}

TEST(Nearest, AThirdOfTheLettersAndOneMoreMayDiffer) {
    constexpr std::array<std::string_view, 1> six{"abcdef"};
    EXPECT_EQ(nearest("abcxyz", six), "abcdef"); // three of six
    EXPECT_EQ(nearest("abwxyz", six), std::nullopt);
}

TEST(Nearest, ASwapIsOneChange) {
    constexpr std::array<std::string_view, 2> words{"abdc", "abxc"};
    EXPECT_EQ(nearest("abcd", words), "abdc");
    constexpr std::array<std::string_view, 1> three{"ba"};
    EXPECT_EQ(nearest("ab", three), "ba") << "two letters allow one change";
}

TEST(Nearest, OfSeveralTheFirst) {
    constexpr std::array<std::string_view, 2> one{"fist", "mist"};
    constexpr std::array<std::string_view, 2> other{"mist", "fist"};
    EXPECT_EQ(nearest("list", one), "fist");
    EXPECT_EQ(nearest("list", other), "mist");
}

TEST(Nearest, NothingIsNearToNothing) {
    EXPECT_EQ(nearest("", known), std::nullopt);
    EXPECT_EQ(nearest("q", known), std::nullopt) << "nothing of it would be left";
    EXPECT_EQ(nearest("fit", {}), std::nullopt);
    EXPECT_EQ(nearest(std::string(100'000, 'x'), known), std::nullopt);
}

TEST(Nearest, IsSaidAtTheEndOfARefusal) {
    EXPECT_EQ(did_you_mean("decod", known), "; did you mean 'decode'?");
    EXPECT_EQ(did_you_mean("zzzzzzzzz", known), "");
}

} // namespace
