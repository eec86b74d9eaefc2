#include "core/story.hpp"

namespace winkhold::testing {
namespace {

core::Settings with(std::uint32_t hold_ms, core::HoldRule rule, std::uint32_t handover_ms, bool cut_short,
                    std::uint32_t settle_ms = 5, std::uint32_t pwm_gap_ms = 0) {
    core::Settings s;
    s.settle_us = settle_ms * 1'000;
    s.pwm_gap_us = pwm_gap_ms * 1'000;
    s.hold_us = hold_ms * 1'000;
    s.handover_us = handover_ms * 1'000;
    s.rule = rule;
    s.cut_short = cut_short;
    s.guard_us = s.cut_margin_us = 40'000;
    s.spread = false;
    s.fall_window_us = 80'000;
    s.handover_end = core::HandoverEnd::both;
    return s;
}

core::Settings ends(core::HandoverEnd end) {
    core::Settings s = with(400, core::HoldRule::fixed, 40, false);
    s.handover_end = end;
    return s;
}

core::Settings delayed_2_s() {
    core::Settings s = with(2'000, core::HoldRule::fixed, 40, false);
    s.handover_end = core::HandoverEnd::delay;
    return s;
}

core::Settings spread(core::HoldRule rule) {
    core::Settings s = with(1'000, rule, 0, true);
    s.guard_us = s.cut_margin_us = 20'000;
    s.spread = true;
    return s;
}

core::Settings prior(std::uint32_t gap_ms) {
    core::Settings s = with(1'000, core::HoldRule::paced, 0, false);
    s.gap_prior_us = gap_ms * 1'000;
    return s;
}

constexpr auto fixed = core::HoldRule::fixed;
constexpr auto paced = core::HoldRule::paced;

/// A plain hold-off filter.
core::Settings plain(std::uint32_t hold_ms, std::uint32_t settle_ms = 5, std::uint32_t pwm_gap_ms = 0) {
    return with(hold_ms, fixed, 0, false, settle_ms, pwm_gap_ms);
}

using Rows = std::vector<Row>;

Rows operator+(Rows rows, const Rows& more) {
    rows.insert(rows.end(), more.begin(), more.end());
    return rows;
}

/// Left is lit from 0 on.
const Rows lit{{0, "L1", ""}, {5'000, "", "left"}};
/// Two flashes of 200 ms from rise to last high, with 195 ms dark between the levels; the third begins at 800
/// ms.
const Rows third_flash =
    lit + Rows{{205'000, "L0", ""}, {400'000, "L1", ""}, {605'000, "L0", ""}, {800'000, "L1", ""}};
/// One flash, a dark gap of 205 ms from last high to settled rise, and the second flash ends.
const Rows one_gap = lit + Rows{{200'000, "L0", ""}, {400'000, "L1", ""}, {600'000, "L0", ""}};
/// Left's flash has ended; right has begun to show.
const Rows right_joins = lit + Rows{{300'000, "L0", ""}, {400'000, "R1", ""}, {405'000, "", "hazard"}};

/// One flash of a hazard, right 20 ms after left.
const Rows hazard =
    lit + Rows{{20'000, "R1", ""}, {25'000, "", "hazard"}, {300'000, "L0", ""}, {320'000, "R0", ""}};

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
    {"both_within_the_window_are_a_hazard", with(400, fixed, 40, false),
     lit + Rows{{40'000, "R1", ""}, {45'000, "", "hazard"}, {200'000, "", ""}}},
    {"a_new_side_alone_takes_over_when_the_window_ends", with(400, fixed, 40, false),
     right_joins + Rows{{444'999, "", ""}, {445'000, "", "right"}}},
    {"the_old_side_rising_at_the_window_s_end_makes_a_hazard", with(400, fixed, 40, false),
     right_joins + Rows{{440'000, "L1", ""}, {445'000, "", ""}, {600'000, "", ""}}},
    {"the_old_side_rising_after_the_window_takes_over_in_turn", with(400, fixed, 40, false),
     right_joins + Rows{{420'000, "R0", ""},
                        {440'001, "L1", ""},
                        {445'000, "", "right"},
                        {445'001, "", "hazard"},
                        {485'001, "", "left"}}},
    {"an_old_side_that_is_lit_is_not_let_go", with(400, fixed, 40, false),
     lit + Rows{{200'000, "R1", ""}, {205'000, "", "hazard"}, {400'000, "", ""}}},
    {"a_stuck_side_is_let_go_when_the_other_flashes", with(400, fixed, 40, false),
     lit + Rows{{4'000'000, "R1", ""}, {4'005'000, "", "hazard"}, {4'045'000, "", "right"}}},
    {"paced_hold_is_the_longest_gap_plus_guard", with(760, paced, 0, false),
     // the gap, last high to settled rise, is 205 ms; learned as 205.056 (units of 64 us)
     one_gap + Rows{{845'055, "", ""}, {845'056, "", "off"}}},
    {"paced_hold_before_anything_is_learned_is_hold", with(760, paced, 0, false),
     lit + Rows{{200'000, "L0", ""}, {960'000, "", "off"}}},
    {"paced_hold_is_never_more_than_hold", with(220, paced, 0, false), one_gap + Rows{{820'000, "", "off"}}},
    {"a_gap_is_learned_even_across_a_wrong_release", with(760, paced, 0, false),
     one_gap + Rows{{845'056, "", "off"},
                    {895'000, "L1", ""},
                    {900'000, "", "left"}, // 300 ms, learned as 300.032
                    {1'100'000, "L0", ""},
                    {1'440'032, "", "off"}}},
    {"a_flash_cut_short_after_two_on_phases_releases_at_once", with(760, fixed, 0, true),
     third_flash + Rows{{950'000, "L0", ""}, {954'999, "", ""}, {955'000, "", "off"}}},
    {"two_on_phases_are_needed_to_know_a_cut", with(760, fixed, 0, true),
     lit + Rows{{205'000, "L0", ""},
                {400'000, "L1", ""},
                {450'000, "L0", ""},
                {1'209'999, "", ""},
                {1'210'000, "", "off"}}},
    {"a_flash_within_the_margin_is_not_cut", with(760, fixed, 0, true),
     third_flash + Rows{{965'000, "L0", ""}, // 160 ms against 200 - 40
                        {1'724'999, "", ""},
                        {1'725'000, "", "off"}}},
    {"after_a_false_cut_the_next_short_flash_is_the_new_rhythm", with(760, fixed, 0, true),
     third_flash + Rows{{905'000, "L0", ""},
                        {910'000, "", "off"},
                        {1'000'000, "L1", ""},
                        {1'005'000, "", "left"},
                        {1'105'000, "L0", ""},
                        {1'200'000, "L1", ""},
                        {1'305'000, "L0", ""},
                        {1'400'000, "L1", ""},
                        {1'445'000, "L0", ""},
                        {1'450'000, "", "off"}}}, // 40 ms against 100 - 40
    {"at_once_the_new_side_alone_replaces_a_dark_one", ends(core::HandoverEnd::at_once),
     lit + Rows{{300'000, "L0", ""}, {400'000, "R1", ""}, {405'000, "", "right"}, {500'000, "", ""}}},
    {"at_once_the_other_side_within_the_window_makes_a_hazard", ends(core::HandoverEnd::at_once),
     lit + Rows{{300'000, "L0", ""},
                {400'000, "R1", ""},
                {405'000, "", "right"},
                {440'000, "L1", ""},
                {445'000, "", "hazard"},
                {600'000, "", ""}}},
    {"at_once_1_us_after_the_window_it_takes_over_in_turn", ends(core::HandoverEnd::at_once),
     lit + Rows{{300'000, "L0", ""},
                {400'000, "R1", ""},
                {405'000, "", "right"},
                {410'000, "R0", ""},
                {440'001, "L1", ""},
                {445'001, "", "left"}}},
    {"a_hazard_stays_a_hazard_though_its_sides_rise_one_after_the_other", ends(core::HandoverEnd::at_once),
     hazard + Rows{{600'000, "L1", ""}, {635'000, "R1", ""}, {650'000, "", ""}, {800'000, "", ""}}},
    {"after_a_hazard_a_side_alone_goes_on_when_the_window_ends", ends(core::HandoverEnd::at_once),
     hazard + Rows{{600'000, "L1", ""}, {644'999, "", ""}, {645'000, "", "left"}}},
    {"delayed_the_new_side_waits_for_the_window_s_end", ends(core::HandoverEnd::delay),
     lit + Rows{{300'000, "L0", ""}, {400'000, "R1", ""}, {405'000, "", ""}, {445'000, "", "right"}}},
    {"delayed_a_hazard_within_the_window_is_shown_at_once", ends(core::HandoverEnd::delay),
     lit + Rows{{300'000, "L0", ""}, {400'000, "R1", ""}, {420'000, "L1", ""}, {425'000, "", "hazard"}}},
    {"delayed_a_newcomer_shorter_than_the_window_is_never_shown", ends(core::HandoverEnd::delay),
     lit + Rows{{300'000, "L0", ""}, {400'000, "R1", ""}, {420'000, "R0", ""}, {700'000, "", "off"}}},
    {"delayed_a_side_that_is_still_shown_is_not_hidden_again", delayed_2_s(),
     lit + Rows{{300'000, "L0", ""},
                {1'400'000, "R1", ""},
                {1'405'000, "", "hazard"},
                {1'410'000, "R0", ""},
                {1'420'000, "L1", ""},
                {1'465'000, "", "left"}}},
    {"delayed_a_newcomer_shorter_than_the_window_ends_with_the_old_side_s_next_rise",
     ends(core::HandoverEnd::delay),
     lit + Rows{{300'000, "L0", ""},
                {400'000, "R1", ""},
                {410'000, "R0", ""},
                {420'000, "L1", ""},
                {450'000, "", ""}}},
    {"delayed_the_first_side_from_off_is_shown_at_once", ends(core::HandoverEnd::delay), lit},
    {"a_side_dark_while_the_other_stays_lit_ends_with_the_fall_window", ends(core::HandoverEnd::at_once),
     lit + Rows{{20'000, "R1", ""},
                {25'000, "", "hazard"},
                {300'000, "L0", ""},
                {379'999, "", ""},
                {380'000, "", "right"}}},
    {"both_dark_within_the_fall_window_stay_a_hazard", ends(core::HandoverEnd::at_once),
     lit + Rows{{20'000, "R1", ""},
                {25'000, "", "hazard"},
                {300'000, "L0", ""},
                {374'999, "R0", ""},
                {500'000, "", ""},
                {700'000, "", "right"}}},
    {"make_before_break_ends_with_the_handover_window_after_the_fall", ends(core::HandoverEnd::at_once),
     lit + Rows{{300'000, "R1", ""}, {305'000, "", "hazard"}, {330'000, "L0", ""}, {370'000, "", "right"}}},
    {"after_make_before_break_the_next_side_change_is_at_once", ends(core::HandoverEnd::at_once),
     lit + Rows{{300'000, "R1", ""},
                {305'000, "", "hazard"},
                {330'000, "L0", ""},
                {370'000, "", "right"},
                {600'000, "R0", ""},
                {800'000, "L1", ""},
                {805'000, "", "left"}}},
    {"a_side_change_right_after_a_fall_is_at_once", ends(core::HandoverEnd::at_once),
     lit + Rows{{300'000, "L0", ""}, {310'000, "R1", ""}, {315'000, "", "right"}}},
    {"a_side_that_chatters_is_still_lit_when_the_other_rises_at_that_moment",
     ends(core::HandoverEnd::at_once),
     lit + Rows{{300'000, "L0", ""}, {310'000, "L1 R1", ""}, {315'000, "", "hazard"}, {600'000, "", ""}}},
    {"unless_it_has_been_lit_for_over_1_s", ends(core::HandoverEnd::at_once),
     lit + Rows{{1'500'000, "L0", ""}, {1'510'000, "L1 R1", ""}, {1'515'000, "", "right"}}},
    {"a_prior_gap_holds_until_one_is_learned", prior(300),
     lit + Rows{{200'000, "L0", ""}, {539'999, "", ""}, {540'000, "", "off"}}},
    {"a_learned_gap_replaces_the_prior", prior(800), one_gap + Rows{{845'055, "", ""}, {845'056, "", "off"}}},
    {"one_gap_is_trusted_only_with_half_of_it_on_top",
     // 205.056 learned, + 1/2 in units of 64 us (102.528) + 20 guard
     spread(paced), one_gap + Rows{{927'583, "", ""}, {927'584, "", "off"}}},
    {"two_on_times_are_trusted_only_with_a_quarter_off",
     // 200 - 1/4 - 20 margin: 130 is cut short, 131 is not
     spread(paced), third_flash + Rows{{929'000, "L0", ""}, {934'000, "", "off"}}},
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
