// `decode` ends with a close look at side changes and dropouts, and says beside the answer what to mend.
#include "run.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace {

using winkhold::testing::Ran;
using winkhold::testing::Scratch;

bool has(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

/// Left five times, 300 ms of each 700, from 1 s on; right from 4.5 s on.
std::string ride(const Scratch& scratch, int flashes = 5) {
    std::string rows = "time_ms,left,right\n0,0,0\n";
    for (int i = 0; i < flashes; ++i)
        rows += fmt::format("{},1,0\n{},0,0\n", 1000 + 700 * i, 1300 + 700 * i);
    const int right_ms = 1000 + 700 * flashes;
    for (int i = 0; i < 5; ++i)
        rows += fmt::format("{},0,1\n{},0,0\n", right_ms + 700 * i, right_ms + 300 + 700 * i);
    return scratch.write("ride.csv", rows + fmt::format("{},0,0\n", right_ms + 6000));
}

// The change is drawn from 1.485 s before to 1.485 s after, in 66 characters of 45 ms.
TEST(CloseUp, ShowsASideChange) {
    Scratch scratch;
    const Ran ran = scratch.run("decode " + ride(scratch));
    EXPECT_EQ(ran.err, "");
    EXPECT_TRUE(has(ran.out, "left becomes right")) << ran.out;
    EXPECT_TRUE(has(ran.out, "45 ms each"));
    EXPECT_FALSE(has(ran.out, "is off for"));
}

// A hold of 300 ms against gaps of 400 ms: off for 100 ms and the settle of 5 ms, in each of four gaps.
TEST(CloseUp, ShowsDropoutsAndSaysWhyBeside) {
    Scratch scratch;
    const Ran ran = scratch.run("decode --hold 300ms " + ride(scratch));
    EXPECT_TRUE(has(ran.out, "left is off for 105 ms")) << ran.out;
    EXPECT_TRUE(has(ran.err, "flickers")) << ran.err;
    const Ran json = scratch.run("decode --json --hold 300ms " + ride(scratch));
    EXPECT_TRUE(nlohmann::json::accept(json.out));
    EXPECT_EQ(json.err, ran.err);
}

// In the close-up nothing is shown after the last answer has ended: what is shown is told later than the
// lines.
TEST(CloseUp, LinesAndAnswerStandAtTheirOwnTimes) {
    Scratch scratch;
    std::string rows = "time_ms,left,right\n0,0,0\n1000,1,0\n1300,0,0\n1700,1,0\n2000,0,0\n";
    rows += "4000,0,1\n4300,0,0\n4700,0,1\n5000,0,0\n9000,0,0\n";
    const Ran ran = scratch.run("decode --hold 350ms " + scratch.write("ride.csv", rows));
    const std::size_t at = ran.out.find("right is off for 55 ms");
    ASSERT_NE(at, std::string::npos) << ran.out;
    const std::size_t left = ran.out.find("shown left ", at);
    EXPECT_EQ(ran.out.substr(left + 11, 66), std::string(66, '_')) << ran.out;
}

// 66 characters for 9.5 s are 144 ms each, for 49 s 742 ms; half a flash is 150 ms.
TEST(Strip, SaysIfACharacterIsLongerThanHalfAFlash) {
    Scratch scratch;
    EXPECT_FALSE(has(scratch.run("decode " + ride(scratch, 4)).out, "longer than half a flash"));
    EXPECT_TRUE(has(scratch.run("decode " + ride(scratch, 60)).out, "longer than half a flash (300 ms)"));
}

} // namespace
