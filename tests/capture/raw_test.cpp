/// Raw logic samples, one byte each.
#include "support.hpp"

#include "winkhold/base/time.hpp"

#include <rapidcheck/gtest.h>

using namespace capture_test;
using namespace std::string_literals;

TEST(Raw, EachSampleHoldsForOnePeriod) {
    const Trace trace = read("\0\0\1\1\3\2"s, {.sample_rate_hz = 1'000});
    EXPECT_EQ(trace.edges, edges({{0, 0}, {2'000, 1}, {4'000, 3}, {5'000, 2}}));
    EXPECT_EQ(trace.end_us, 5'000);
}

TEST(Raw, TimesAreRoundedDownToWholeMicroseconds) {
    EXPECT_EQ(read("\0\1\0\1"s, {.sample_rate_hz = 44'100}).edges,
              edges({{0, 0}, {22, 1}, {45, 0}, {68, 1}}));
    EXPECT_EQ(read("\0\1\0\1"s, {.sample_rate_hz = 3'000'000}).edges,
              edges({{0, 0}, {0, 1}, {0, 0}, {1, 1}}));
    EXPECT_EQ(read("\0\1"s, {.sample_rate_hz = 1}).edges, edges({{0, 0}, {1'000'000, 1}}));
}

TEST(Raw, SidesAreBitsByNumber) {
    EXPECT_EQ(read("\x80\x08\x00\xFF\x77"s, {.left = "7", .right = "3", .sample_rate_hz = 1'000'000}).edges,
              edges({{0, 1}, {1, 2}, {2, 0}, {3, 3}, {4, 0}}));
    EXPECT_EQ(read("\1\3\2"s, {.right = "none", .sample_rate_hz = 1'000'000}).edges, edges({{0, 1}, {2, 0}}));
}

TEST(Raw, ALowLevelMayMeanLit) {
    EXPECT_EQ(read("\3\2"s, {.active_high = false, .sample_rate_hz = 1'000'000}).edges,
              edges({{0, 0}, {1, 1}}));
}

RC_GTEST_PROP(Raw, EdgesAreWhereABitOfATapChanges, ()) {
    // long rests and short pulses, so that every way of looking at the bytes is taken
    std::string samples;
    for (const int rest :
         *rc::gen::container<std::vector<int>>(rc::gen::element(1, 2, 7, 8, 9, 63, 64, 65, 200'000)))
        samples.append(static_cast<std::size_t>(rest), static_cast<char>(*rc::gen::inRange(0, 256)));
    RC_PRE(!samples.empty());
    std::vector<Edge> expected;
    for (std::size_t i = 0; i < samples.size(); ++i) {
        const unsigned bits = (samples[i] & 4) / 4 + (samples[i] & 32) / 16;
        if (expected.empty() || expected.back().lines != lines(bits))
            expected.push_back({static_cast<winkhold::host::TimeUs>(i) * 1'000, lines(bits)});
    }
    const Trace trace = read(samples, {.left = "2", .right = "5", .sample_rate_hz = 1'000});
    RC_ASSERT(trace.edges == expected);
    RC_ASSERT(trace.end_us == static_cast<winkhold::host::TimeUs>(samples.size() - 1) * 1'000);
}

TEST(Raw, WhatIsRefused) {
    expect_refusal("", 0, {"empty"}, {.sample_rate_hz = 1'000});
    expect_refusal("\0"s, 0, {"no bit \"8\"", "0, 1, 2"}, {.left = "8", .sample_rate_hz = 1'000});
    expect_refusal("\0"s, 0, {"both read from one bit"}, {.left = "1", .sample_rate_hz = 1'000});
    expect_refusal("\0"s, 0, {"from 1 Hz to 1 GHz"}, {.sample_rate_hz = 0});
    expect_refusal("\0"s, 0, {"from 1 Hz to 1 GHz"}, {.sample_rate_hz = 1'000'000'001});
}

TEST(Raw, AFileWithTimesOfItsOwnIsNotTakenForRawSamples) {
    for (const std::string_view text :
         {"time_us,left,right\n0,0,0\n", "$timescale 1 us $end", "# winkhold recorder 1 tick_us=4\n"})
        expect_refusal(text, 0, {"leave --rate out"}, {.sample_rate_hz = 1'000});
    expect_refusal("RIFF\0\0\0\0WAVEfmt "s, 0, {"WAV", "leave --rate out"}, {.sample_rate_hz = 1'000});
}
