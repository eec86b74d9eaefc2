/// Event tables: what the taps do, what the answer must be. Every table is run at several scan cadences, with
/// the clock about to wrap, and mirrored.
#pragma once

#include "winkhold/core/core.hpp"

#include <gtest/gtest.h>
#include <string>
#include <vector>

namespace winkhold::testing {

/// At `t_us` the taps named in `change` move ("L1 R0": left high, right low), and from then on the answer is
/// `answer`; just before it was the row's above. An empty answer leaves it as it was.
struct Row {
    std::uint32_t t_us;
    std::string change;
    std::string answer;
};

struct Story {
    std::string rule; ///< the rule in words, as a test name
    core::Settings settings;
    std::vector<Row> rows;
};

inline core::Indication indication_of(const std::string& name, bool mirrored) {
    if (name == "off") return core::Indication::off;
    if (name == "hazard") return core::Indication::hazard;
    return (name == "left") != mirrored ? core::Indication::left : core::Indication::right;
}

inline core::Lines change(core::Lines lines, const std::string& change, bool mirrored) {
    for (std::size_t i = 0; i + 1 < change.size(); i += 3) {
        const bool left = (change[i] == 'L') != mirrored;
        lines = lines.with(left ? core::Lines::left : core::Lines::right, change[i + 1] == '1');
    }
    return lines;
}

/// Runs the story; steps at edges and wakes, and every `scan_us` besides if that isn't 0.
inline void expect_story(const Story& story, std::uint32_t start_us, bool mirrored, std::uint32_t scan_us) {
    core::Decoder decoder(story.settings);
    core::Lines lines;
    core::Indication expected = core::Indication::off;
    std::uint32_t now_us = 0;
    const auto at = [start_us](std::uint32_t t_us) { return core::Micros{start_us + t_us}; };
    const auto run_to = [&](std::uint32_t to_us) { // up to, not including
        while (true) {
            const std::uint32_t scan_at_us = scan_us == 0 ? to_us : now_us + scan_us;
            std::uint32_t next_us = std::min(scan_at_us, to_us);
            if (decoder.wake().armed)
                next_us = std::min(next_us, now_us + core::elapsed_us(decoder.wake().at, at(now_us)));
            if (next_us >= to_us) return;
            decoder.step(at(next_us), lines);
            now_us = next_us;
        }
    };
    decoder.step(at(0), lines);
    for (const Row& row : story.rows) {
        run_to(row.t_us);
        ASSERT_EQ(decoder.indication(), expected) << "just before " << row.t_us << " us";
        lines = change(lines, row.change, mirrored);
        now_us = row.t_us;
        if (!row.answer.empty()) expected = indication_of(row.answer, mirrored);
        ASSERT_EQ(decoder.step(at(now_us), lines), expected) << "at " << row.t_us << " us";
    }
    // a silent minute must end in off and change nothing more
    for (const core::Lines::Tap tap : {core::Lines::left, core::Lines::right})
        lines = lines.with(tap, false);
    decoder.step(at(now_us), lines);
    while (decoder.wake().armed) {
        now_us += core::elapsed_us(decoder.wake().at, at(now_us));
        decoder.step(at(now_us), lines);
    }
    ASSERT_LT(now_us, story.rows.back().t_us + 60'000'000);
    ASSERT_EQ(decoder.indication(), core::Indication::off);
}

class Stories : public ::testing::TestWithParam<Story> {};

} // namespace winkhold::testing
