/// Event tables for lamps: what is shown and settled, what each group must show. Every table is run at
/// several scan cadences, with the clock about to wrap, and mirrored.
#pragma once

#include "winkhold/core/core.hpp"

#include <gtest/gtest.h>
#include <sstream>
#include <string>
#include <vector>

namespace winkhold::testing {

/// At `t_us` `change` happens ("left L1": left is shown, its line rises; B brake, T tail), and from then on
/// the groups show `frames`; just before it was the row's above. Each frame is LIT@LEVEL, or LIT@LEVEL/REST.
/// Empty frames leave them as they were.
struct LampRow {
    std::uint32_t t_us;
    std::string change;
    std::string frames;
};

struct LampStory {
    std::string rule; ///< the rule in words, as a test name
    core::SequenceSettings settings;
    std::vector<core::LampGroup> groups;
    std::vector<LampRow> rows;
};

inline core::Indication mirrored(core::Indication indication) {
    const auto bits = static_cast<unsigned>(indication);
    return static_cast<core::Indication>((bits & 1u) << 1 | bits >> 1);
}

class LampBench {
public:
    LampBench(const LampStory& story, std::uint32_t start_us, bool mirror, std::uint32_t scan_us)
        : groups_(story.groups), start_us_(start_us), mirror_(mirror), scan_us_(scan_us) {
        if (mirror)
            for (core::LampGroup& group : groups_)
                group.side = mirrored(group.side);
        const auto count = static_cast<std::uint8_t>(groups_.size());
        EXPECT_EQ(core::check(story.settings, groups_.data(), count), core::SequenceError::none);
        sequence_ = core::Sequence(story.settings, groups_.data(), count);
        step(0);
    }

    /// Steps at wakes, and every `scan_us` besides if that isn't 0, up to but not including `to_us`.
    void run_to(std::uint32_t to_us) {
        while (true) {
            std::uint32_t next_us = scan_us_ == 0 ? to_us : std::min(to_us, now_us_ + scan_us_);
            if (sequence_.wake().armed)
                next_us = std::min(next_us, now_us_ + core::elapsed_us(sequence_.wake().at, at(now_us_)));
            if (next_us >= to_us) return;
            step(next_us);
        }
    }

    void change(std::uint32_t t_us, const std::string& change) {
        std::istringstream words(change);
        for (std::string word; words >> word;) {
            if (word == "off")
                shown_ = core::Indication::off;
            else if (word == "left")
                shown_ = core::Indication::left;
            else if (word == "right")
                shown_ = core::Indication::right;
            else if (word == "hazard")
                shown_ = core::Indication::hazard;
            else
                settled_ = settled_.with(tap(word[0]), word[1] == '1');
        }
        step(t_us);
    }

    std::string frames() const {
        std::ostringstream text;
        for (std::size_t i = 0; i < groups_.size(); ++i) {
            const core::GroupFrame frame = sequence_.frame(static_cast<std::uint8_t>(i));
            text << (i == 0 ? "" : " ") << frame.lit << "@" << int{frame.level};
            if (frame.rest != 0) text << "/" << int{frame.rest};
        }
        return text.str();
    }

private:
    core::Micros at(std::uint32_t t_us) const { return {start_us_ + t_us}; }

    core::Lines::Tap tap(char letter) const {
        if (letter == 'B') return core::Lines::brake;
        if (letter == 'T') return core::Lines::tail;
        return (letter == 'L') != mirror_ ? core::Lines::left : core::Lines::right;
    }

    void step(std::uint32_t t_us) {
        now_us_ = t_us;
        sequence_.step(at(t_us), mirror_ ? mirrored(shown_) : shown_, settled_);
    }

    std::vector<core::LampGroup> groups_;
    std::uint32_t start_us_;
    bool mirror_;
    std::uint32_t scan_us_;
    core::Sequence sequence_{core::SequenceSettings{}, nullptr, 0};
    core::Indication shown_{core::Indication::off};
    core::Lines settled_;
    std::uint32_t now_us_{0};
};

inline void expect_story(const LampStory& story, std::uint32_t start_us, bool mirror, std::uint32_t scan_us) {
    LampBench bench(story, start_us, mirror, scan_us);
    std::string expected = bench.frames();
    for (const LampRow& row : story.rows) {
        bench.run_to(row.t_us);
        ASSERT_EQ(bench.frames(), expected) << "just before " << row.t_us << " us";
        bench.change(row.t_us, row.change);
        if (!row.frames.empty()) expected = row.frames;
        ASSERT_EQ(bench.frames(), expected) << "at " << row.t_us << " us";
    }
}

} // namespace winkhold::testing
