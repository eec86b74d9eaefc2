// `decode --beside` holds plain holds against the decoder: what each shows, and what it costs.
#include "run.hpp"

#include <fmt/format.h>

namespace {

using winkhold::testing::Ran;
using winkhold::testing::Scratch;

bool has(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

/// Left five times, lit 300 ms of each 700, from 1 s on; right five times from 4.5 s on, 400 ms after left's
/// last light; then 6 s of rest.
std::string ride(const Scratch& scratch) {
    std::string rows = "time_ms,left,right\n0,0,0\n";
    for (int i = 0; i < 10; ++i) {
        const char* const lit = i < 5 ? "1,0" : "0,1";
        rows += fmt::format("{},{}\n{},0,0\n", 1000 + 700 * i, lit, 1300 + 700 * i);
    }
    return scratch.write("ride.csv", rows + "13500,0,0\n");
}

/// The text with its lines joined, so that it makes no difference where they break.
std::string joined(std::string text) {
    for (char& c : text)
        if (c == '\n') c = ' ';
    return text;
}

// Gaps of 400 ms: a hold of 300 ms goes out in the four gaps of each side and lets go before the other side
// comes. A hold of 700 ms bridges them, and stands for 700 - 400 - 5 (settle) = 295 ms beside the other side.
TEST(Beside, FiguresFollowFromGapsHoldsAndSettle) {
    Scratch scratch;
    const Ran ran = scratch.run("decode " + ride(scratch) + " --beside 300ms 700ms");
    EXPECT_EQ(ran.exit_code, 0) << ran.err;
    EXPECT_TRUE(has(ran.out, "A plain hold of 300 ms flickers: it goes out while it is asked for\n"))
        << ran.out;
    EXPECT_TRUE(has(ran.out, "A plain hold of 700 ms overlaps: it shows both sides after a side change\n"));
    EXPECT_TRUE(has(ran.out, "Winkhold neither flickers nor overlaps\n"));
    const std::string sentence = joined(ran.out);
    EXPECT_TRUE(has(sentence,
                    "Over all 10 flashes, a plain hold of 300 ms goes out 8 times while it is asked for, "
                    "shows both sides for 0 ms after a side change and lets go 300 ms after the last "
                    "light; a plain hold of 700 ms: 0 times, 295 ms, 700 ms; Winkhold: 0 times, 0 ms, "))
        << ran.out;
}

// The newcomer counts from 4.5 s + 5 ms (settle) + 40 ms (blink) on, and stands in the middle: 4.545 s
// - 1.485 s.
TEST(Beside, DrawsTheFirstSideChangeOrWhatIsAskedFor) {
    Scratch scratch;
    const std::string recording = ride(scratch);
    EXPECT_TRUE(has(scratch.run("decode " + recording + " --beside 700ms").out, ": 3.060 s to 6.030 s\n"));
    const Ran chosen = scratch.run("decode " + recording + " --beside 700ms --from 1s --for 660ms");
    EXPECT_TRUE(has(chosen.out, ": 1.000 s to 1.660 s\n"));
    EXPECT_TRUE(has(chosen.out, "  line left " + std::string(30, '#') + std::string(36, '_') + "\n"))
        << chosen.out;
    EXPECT_TRUE(has(chosen.out, "# high  _ low  + both within one character, 10 ms each\n"));
}

TEST(Beside, SaysWhenAHoldIsWrongInBothWays) {
    Scratch scratch;
    std::string rows = "time_ms,left,right\n0,0,0\n";
    for (int i = 0; i < 3; ++i)
        rows += fmt::format("{},1,0\n{},0,0\n", 1000 + 700 * i, 1300 + 700 * i);
    for (int i = 0; i < 3; ++i)
        rows += fmt::format("{},0,1\n{},0,0\n", 2800 + 700 * i, 3100 + 700 * i); // 100 ms after left
    const Ran ran =
        scratch.run("decode " + scratch.write("quick.csv", rows + "9000,0,0\n") + " --beside 200ms");
    EXPECT_TRUE(has(ran.out, "A plain hold of 200 ms flickers, and shows both sides after a side change\n"))
        << ran.out;
}

TEST(Beside, RefusesWhatCanNotBeDrawn) {
    Scratch scratch;
    const std::string recording = ride(scratch);
    const auto refusal = [&](const std::string& options) {
        const Ran ran = scratch.run("decode " + recording + " " + options);
        EXPECT_EQ(ran.exit_code, 2) << options;
        EXPECT_EQ(ran.out, "") << options;
        return ran.err;
    };
    EXPECT_TRUE(has(refusal("--beside 1ms"), "hold 1 ms is below settle 5 ms"));
    EXPECT_TRUE(has(refusal("--beside soon"), "--beside"));
    EXPECT_TRUE(has(refusal("--beside 1s --from 20s"), "the recording ends at 13.500 s"));
    EXPECT_TRUE(has(refusal("--beside 1s --for 0ms"), "less than 1 ms can't be drawn"));
    EXPECT_TRUE(has(refusal("--from 1s"), "--beside"));
    EXPECT_TRUE(has(refusal("--beside 1s --json"), "--beside"));
    EXPECT_TRUE(has(refusal("--beside 1s --hindsight"), "--beside"));
}

} // namespace
