// Settling, PWM and the plain hold, to the microsecond. What the rules of the rhythm say is told in
// tale_test.cpp.
#include "core/story.hpp"

namespace winkhold::testing {
namespace {

/// A plain hold-off filter.
core::Settings plain(std::uint32_t hold_ms, std::uint32_t settle_ms = 5, std::uint32_t pwm_gap_ms = 0) {
    core::Settings s;
    s.settle_us = settle_ms * 1'000;
    s.pwm_gap_us = pwm_gap_ms * 1'000;
    s.hold_us = hold_ms * 1'000;
    s.rule = core::HoldRule::fixed;
    s.handover_us = 0;
    s.cut_short = false;
    return s;
}

using Rows = std::vector<Row>;

Rows operator+(Rows rows, const Rows& more) {
    rows.insert(rows.end(), more.begin(), more.end());
    return rows;
}

/// Left is lit from 0 on.
const Rows lit{{0, "L1", ""}, {5'000, "", "left"}};
/// Left's flash has ended; right has begun to show.
const Rows right_joins = lit + Rows{{300'000, "L0", ""}, {400'000, "R1", ""}, {405'000, "", "hazard"}};

const Story stories[] = {
    {"a_rise_settles_once_high_for_settle", plain(400), {{0, "L1", ""}, {5'000, "", "left"}}},
    {"a_pulse_1_us_short_of_settle_is_invisible",
     plain(400),
     {{0, "L1", ""}, {4'999, "L0", ""}, {9'000, "", ""}}},
    {"a_pulse_of_exactly_settle_counts", plain(400), {{0, "L1", ""}, {5'000, "L0", "left"}}},
    {"bounce_starts_the_rise_anew",
     plain(400),
     {{0, "L1", ""}, {1'000, "L0", ""}, {1'500, "L1", ""}, {6'499, "", ""}, {6'500, "", "left"}}},
    {"hold_counts_from_the_last_high", plain(400),
     lit + Rows{{300'000, "L0", ""}, {699'999, "", ""}, {700'000, "", "off"}}},
    {"bounce_on_the_fall_moves_the_last_high", plain(400),
     lit + Rows{{300'000, "L0", ""}, {301'000, "L1", ""}, {302'000, "L0", ""}, {702'000, "", "off"}}},
    {"a_glitch_in_the_dark_does_not_move_the_last_high", plain(400),
     lit + Rows{{300'000, "L0", ""}, {350'000, "L1", ""}, {354'000, "L0", ""}, {700'000, "", "off"}}},
    {"a_gap_whose_rise_settles_at_the_hold_s_end_is_bridged", plain(400),
     lit + Rows{{300'000, "L0", ""},
                {695'000, "L1", ""},
                {700'000, "", ""},
                {1'000'000, "L0", ""},
                {1'399'999, "", ""},
                {1'400'000, "", "off"}}},
    {"a_gap_whose_rise_settles_1_us_later_is_not", plain(400),
     lit + Rows{{300'000, "L0", ""}, {695'001, "L1", ""}, {700'000, "", "off"}, {700'001, "", "left"}}},
    {"without_handover_both_held_is_hazard", plain(400), right_joins + Rows{{700'000, "", "right"}}},
    {"a_low_shorter_than_the_pwm_gap_belongs_to_the_on_phase",
     plain(100, 0, 20),
     {{0, "L1", "left"},
      {200, "L0", ""},
      {20'199, "L1", ""},
      {20'400, "L0", ""},
      {120'399, "", ""},
      {120'400, "", "off"}}},
    {"a_chopped_rise_settles_at_the_first_high_after_settle",
     plain(100, 5, 20),
     {{0, "L1", ""}, {200, "L0", ""}, {7'000, "L1", "left"}, {7'200, "L0", ""}, {107'200, "", "off"}}},
    {"a_chopped_rise_that_is_high_at_settle_settles_then",
     plain(100, 5, 20),
     {{0, "L1", ""}, {200, "L0", ""}, {4'000, "L1", ""}, {5'000, "", "left"}}},
    {"a_low_of_the_pwm_gap_starts_the_rise_anew",
     plain(100, 5, 20),
     {{0, "L1", ""}, {200, "L0", ""}, {20'200, "L1", ""}, {20'400, "L0", ""}, {27'000, "L1", "left"}}},
    {"pwm_gap_of_lows_ends_the_on_phase_but_the_hold_bridges",
     plain(100, 0, 20),
     {{0, "L1", "left"}, {200, "L0", ""}, {60'000, "L1", ""}, {60'200, "L0", ""}, {160'200, "", "off"}}},
};

INSTANTIATE_TEST_SUITE_P(Rule, Stories, ::testing::ValuesIn(stories),
                         [](const auto& info) { return info.param.rule; });

TEST_P(Stories, HoldAtEveryCadenceAcrossTheWrapAndMirrored) {
    for (const std::uint32_t start_us :
         {0u, 0u - 10u, 0u - 500u, 0u - 5'000u, 0u - 300'000u, 0x80000000u - 1'000u})
        for (const bool mirrored : {false, true})
            for (const std::uint32_t scan_us : {0u, 1u, 7u, 100u, 1'000u, 16'384u}) {
                SCOPED_TRACE(::testing::Message() << "start " << start_us << (mirrored ? ", mirrored" : "")
                                                  << ", scan " << scan_us);
                ASSERT_NO_FATAL_FAILURE(expect_story(GetParam(), start_us, mirrored, scan_us));
            }
}

} // namespace
} // namespace winkhold::testing
