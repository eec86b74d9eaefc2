#include "core/lamp_story.hpp"

namespace winkhold::testing {
namespace {

using core::Indication;
using core::Job;
using core::LampGroup;
using core::SequenceSettings;

LampGroup group(Job job, Indication side, std::uint16_t count, core::Pattern pattern = core::together(),
                std::uint8_t full = 255, std::uint8_t dimmed = 0) {
    return {job, side, count, pattern, full, dimmed};
}
LampGroup left(std::uint16_t count, core::Pattern pattern) {
    return group(Job::turn, Indication::left, count, pattern);
}
LampGroup right(std::uint16_t count, core::Pattern pattern) {
    return group(Job::turn, Indication::right, count, pattern);
}

const SequenceSettings following{};
SequenceSettings own_rate(std::uint32_t on_us = 0, std::uint32_t dark_us = 0) {
    SequenceSettings s;
    s.source = core::FlashSource::own_rate;
    s.on_us = on_us;
    s.dark_us = dark_us;
    return s;
}
SequenceSettings known_on_time(std::uint32_t on_us) {
    SequenceSettings s;
    s.on_prior_us = on_us;
    return s;
}

const core::Pattern outward = core::outward(30'000);

const LampStory lamp_stories[] = {
    {"outward_lights_one_lamp_each_step_and_keeps_them_to_the_end_of_the_flash",
     following,
     {left(3, outward)},
     {{1'000, "left L1", "1@255"},
      {31'000, "", "2@255"},
      {61'000, "", "3@255"},
      {400'000, "L0", "0@0"},
      {700'000, "L1", "1@255"}}},
    {"all_together_lights_at_once",
     following,
     {left(6, core::together())},
     {{1'000, "left L1", "6@255"}, {300'000, "L0", "0@0"}}},
    {"blocks_light_so_many_each_step_and_what_is_left_last",
     following,
     {left(5, core::in_blocks(2, 20'000))},
     {{1'000, "left L1", "2@255"}, {21'000, "", "4@255"}, {41'000, "", "5@255"}, {300'000, "L0", "0@0"}}},
    {"fading_in_lights_all_lamps_and_brightens_them",
     following,
     {group(Job::turn, Indication::left, 4, core::fading_in(100, 50'000), 250)},
     {{1'000, "left L1", "4@100"}, {51'000, "", "4@200"}, {101'000, "", "4@250"}, {300'000, "L0", "0@0"}}},
    {"a_hold_counts_from_the_last_block_and_then_it_is_dark",
     following,
     {left(2, core::ending(outward, 50'000, 0))},
     {{1'000, "left L1", "1@255"},
      {31'000, "", "2@255"},
      {81'000, "", "0@0"},
      {300'000, "L0", ""},
      {600'000, "L1", "1@255"}}},
    {"a_group_that_lights_together_ends_after_its_hold",
     following,
     {left(2, core::ending(core::together(), 50'000, 0))},
     {{1'000, "left L1", "2@255"}, {51'000, "", "0@0"}}},
    {"a_line_that_falls_in_mid_fill_is_dark_at_once",
     following,
     {left(6, outward)},
     {{1'000, "left L1", "1@255"}, {31'000, "", "2@255"}, {40'000, "L0", "0@0"}, {500'000, "off", ""}}},
    {"a_side_let_go_in_mid_fill_is_dark_at_once",
     following,
     {left(6, outward)},
     {{1'000, "left L1", "1@255"}, {31'000, "", "2@255"}, {40'000, "off", "0@0"}, {300'000, "L0", ""}}},
    {"on_a_handover_the_old_side_is_dark_and_the_new_one_begins_in_the_same_step",
     following,
     {left(6, outward), right(6, outward)},
     {{1'000, "left L1", "1@255 0@0"},
      {31'000, "", "2@255 0@0"},
      {50'000, "right R1", "0@0 1@255"},
      {80'000, "", "0@0 2@255"},
      {90'000, "L0", ""}}},
    {"a_side_shown_later_than_its_line_rises_begins_when_shown",
     following,
     {right(6, outward)},
     {{1'000, "R1", "0@0"}, {61'000, "right", "1@255"}, {91'000, "", "2@255"}}},
    {"in_a_hazard_each_side_follows_its_own_line",
     following,
     {left(6, outward), right(6, outward)},
     {{1'000, "hazard L1", "1@255 0@0"},
      {11'000, "R1", "1@255 1@255"},
      {31'000, "", "2@255 1@255"},
      {41'000, "", "2@255 2@255"}}},
    {"a_group_of_both_sides_flashes_with_either",
     following,
     {group(Job::turn, Indication::hazard, 1)},
     {{1'000, "right R1", "1@255"},
      {300'000, "R0", "0@0"},
      {400'000, "off", ""},
      {500'000, "left L1", "1@255"}}},
    {"a_flash_too_short_for_the_fill_makes_the_next_one_fit_seven_eighths_of_it",
     following,
     {left(6, outward)},
     {{0, "left L1", "1@255"},
      {30'000, "", "2@255"},
      {60'000, "", "3@255"},
      {90'000, "", "4@255"},
      {120'000, "", "5@255"},
      {128'000, "L0", "0@0"}, // 128 ms: the lamp-out rate of facts about flasher units
      {300'000, "L1", "1@255"},
      {318'666, "", "2@255"},
      {337'332, "", "3@255"},
      {355'998, "", "4@255"},
      {374'664, "", "5@255"},
      {393'330, "", "6@255"},
      {428'000, "L0", "0@0"}}},
    {"the_step_is_as_asked_again_after_two_long_flashes",
     following,
     {left(2, core::outward(60'000))},
     {{0, "left L1", "1@255"},
      {60'000, "", "2@255"},
      {128'000, "L0", "0@0"},
      {200'000, "L1", "1@255"}, // 112 ms fit: 56 ms a lamp
      {256'000, "", "2@255"},
      {600'000, "L0", "0@0"},
      {700'000, "L1", "1@255"}, // the very first flash may have been joined midway, it is forgotten
      {760'000, "", "2@255"},
      {1'100'000, "L0", "0@0"}}},
    {"one_long_flash_between_short_ones_does_not_slow_the_step",
     following,
     {left(2, core::outward(60'000))},
     {{0, "left L1", "1@255"},
      {60'000, "", "2@255"},
      {400'000, "L0", "0@0"},
      {500'000, "L1", "1@255"},
      {560'000, "", "2@255"},
      {628'000, "L0", "0@0"},
      {700'000, "L1", "1@255"}, // 128 ms is all that counts so far
      {756'000, "", "2@255"},
      {1'100'000, "L0", "0@0"},
      {1'200'000, "L1", "1@255"}, // 400 and 128 ms: the least
      {1'256'000, "", "2@255"},
      {1'600'000, "L0", "0@0"}}},
    {"a_line_that_stays_on_keeps_all_lamps_lit",
     following,
     {left(2, outward)},
     {{0, "left L1", "1@255"}, {30'000, "", "2@255"}, {5'010'000, "L0", "0@0"}}},
    {"a_measured_on_time_serves_the_first_flash",
     known_on_time(128'000),
     {left(6, outward)},
     {{0, "left L1", "1@255"},
      {18'666, "", "2@255"},
      {37'332, "", "3@255"},
      {55'998, "", "4@255"},
      {74'664, "", "5@255"},
      {93'330, "", "6@255"}}},
    {"a_request_s_first_flash_teaches_nothing_where_more_is_known",
     following,
     {left(2, outward)},
     {{0, "left L1", "1@255"},
      {30'000, "", "2@255"},
      {300'000, "L0", "0@0"},
      {600'000, "L1", "1@255"},
      {630'000, "", "2@255"},
      {900'000, "L0", "0@0"},
      {1'000'000, "off", ""},
      {1'200'000, "left L1", "1@255"},
      {1'220'000, "L0", "0@0"}, // cut short by a flasher that runs freely
      {1'500'000, "L1", "1@255"},
      {1'530'000, "", "2@255"}}},
    {"a_cancelled_flash_teaches_nothing",
     following,
     {left(2, outward)},
     {{0, "left L1", "1@255"},
      {10'000, "L0", "0@0"},
      {200'000, "off", ""},
      {500'000, "left L1", "1@255"},
      {530'000, "", "2@255"}}},
    {"a_gap_shorter_than_chatter_carries_the_fill_on",
     following,
     {left(6, outward)},
     {{1'000, "left L1", "1@255"},
      {31'000, "", "2@255"},
      {40'000, "L0", "0@0"},
      {64'999, "L1", "3@255"},
      {91'000, "", "4@255"}}},
    {"a_gap_of_chatter_s_length_begins_anew",
     following,
     {left(2, outward)},
     {{1'000, "left L1", "1@255"}, {31'000, "", "2@255"}, {40'000, "L0", "0@0"}, {80'000, "L1", "1@255"}}},
    {"a_line_that_stays_on_keeps_the_lamps_lit",
     following,
     {left(2, outward)},
     {{0, "left L1", "1@255"},
      {30'000, "", "2@255"},
      {17'000'000, "", ""},
      {20'000'000, "L0", "0@0"},
      {20'010'000, "L1", "1@255"}}},
    {"an_own_rate_starts_with_the_indication_whatever_the_line_does",
     own_rate(200'000, 100'000),
     {left(2, outward)},
     {{1'000, "left", "1@255"},
      {31'000, "L1", "2@255"},
      {100'000, "L0", ""},
      {201'000, "", "0@0"},
      {301'000, "L1", "1@255"},
      {331'000, "", "2@255"},
      {340'000, "off", "0@0"}}},
    {"a_side_that_joins_starts_both_anew_at_an_own_rate",
     own_rate(200'000, 100'000),
     {left(3, outward), right(3, outward)},
     {{1'000, "left", "1@255 0@0"},
      {31'000, "", "2@255 0@0"},
      {40'000, "hazard", "1@255 1@255"},
      {70'000, "", "2@255 2@255"},
      {80'000, "left", "2@255 0@0"},
      {100'000, "", "3@255 0@0"},
      {240'000, "", "0@0 0@0"},
      {300'000, "right", "0@0 1@255"}}},
    {"an_own_rate_without_a_rate_is_paced_by_the_slowest_fill_and_the_longest_blank",
     own_rate(),
     {left(2, core::ending(outward, 100'000, 70'000)), left(3, core::ending(outward, 20'000, 50'000))},
     {{0, "left", "1@255 1@255"},
      {30'000, "", "2@255 2@255"},
      {60'000, "", "2@255 3@255"},
      {80'000, "", "2@255 0@0"},
      {130'000, "", "0@0 0@0"},
      {200'000, "", "1@255 1@255"}}},
    {"an_own_rate_too_fast_for_the_fill_shortens_its_step",
     own_rate(100'000, 100'000),
     {left(4, outward)},
     {{0, "left", "1@255"},
      {25'000, "", "2@255"},
      {50'000, "", "3@255"},
      {75'000, "", "4@255"},
      {100'000, "", "0@0"}}},
    {"stop_lamps_light_in_the_very_step_of_the_brake_in_mid_fill",
     following,
     {left(6, outward), group(Job::stop, Indication::hazard, 18, core::together(), 255, 40)},
     {{0, "left L1", "1@255 18@0"},
      {30'000, "", "2@255 18@0"},
      {30'001, "B1", "2@255 18@255"},
      {60'000, "", "3@255 18@255"},
      {60'001, "T1", ""},
      {70'000, "B0", "3@255 18@40"},
      {80'000, "T0", "3@255 18@0"}}},
    {"tail_lamps_are_dimmed_on_the_side_that_is_shown",
     following,
     {group(Job::tail, Indication::left, 4, core::together(), 90, 30),
      group(Job::tail, Indication::right, 4, core::together(), 90, 30)},
     {{1'000, "left L1", "4@0 4@0"},
      {2'000, "T1", "4@30 4@90"},
      {300'000, "L0", ""},
      {400'000, "off", "4@90 4@90"}}},
    {"marker_lamps_are_dark_while_their_side_is_shown_and_in_its_dark_gaps",
     following,
     {group(Job::marker, Indication::left, 5, core::together(), 120, 0)},
     {{1'000, "right R1", "5@120"},
      {2'000, "left R0 L1", "5@0"},
      {300'000, "L0", ""},
      {600'000, "L1", ""},
      {900'000, "L0", ""},
      {1'300'000, "off", "5@120"}}},
    {"turn_lamps_that_are_markers_too_are_dimmed_only_while_their_side_is_not_shown",
     following,
     {group(Job::turn, Indication::left, 3, outward, 255, 20)},
     {{1'000, "left L1", "1@255"}, {20'000, "L0", "0@0"}, {900'000, "off", "0@0/20"}}},
};

class LampStories : public ::testing::TestWithParam<LampStory> {};

TEST_P(LampStories, HoldAtEveryCadenceAcrossTheWrapAndMirrored) {
    for (const bool mirror : {false, true})
        for (const std::uint32_t start_us : {0u, 0u - 40'000u, 0xff'0000u})
            for (const std::uint32_t scan_us : {0u, 1'000u, 3'333u, 24'000u, 100'000u}) {
                SCOPED_TRACE(::testing::Message()
                             << "mirror " << mirror << ", start " << start_us << ", scan " << scan_us);
                ASSERT_NO_FATAL_FAILURE(expect_story(GetParam(), start_us, mirror, scan_us));
            }
}

INSTANTIATE_TEST_SUITE_P(Sequence, LampStories, ::testing::ValuesIn(lamp_stories),
                         [](const auto& info) { return info.param.rule; });

// The same player at compile time: six lamps 30 ms apart are full 150 ms after the rise, not 1 us before.
constexpr LampGroup six[] = {{Job::turn, Indication::left, 6, core::outward(30'000), 255, 0}};
constexpr std::uint16_t lit_after(std::uint32_t us) {
    core::Sequence sequence(SequenceSettings{}, six, 1);
    sequence.step(core::Micros{0}, Indication::left, core::Lines(core::Lines::left));
    sequence.step(core::Micros{us}, Indication::left, core::Lines(core::Lines::left));
    return sequence.frame(0).lit;
}
static_assert(lit_after(149'999) == 5 && lit_after(150'000) == 6, "lit after t: t / step + 1");

TEST(SharedTime, IsTheQuotientRoundedDown) {
    for (const core::Span whole_us : {0u, 1u, 112'000u, 199'999u, 5'000'000u, 0xff'ffffu})
        for (const std::uint16_t parts : {1, 2, 3, 6, 17, 255, 4'096, 65'535})
            EXPECT_EQ(core::share_us(whole_us, parts), whole_us / parts) << whole_us << " / " << parts;
}

// 200 ms for six lamps leave 40 ms a step, for ten 22, for eighteen 11: the last of N lights at (N - 1) p.
TEST(AdaptedStep, LetsTheLastLampHaveAStepOfItsOwn) {
    EXPECT_EQ(core::adapted_step_us(left(6, outward), 180'000), 30'000u);
    EXPECT_EQ(core::adapted_step_us(left(6, outward), 179'999), 29'999u);
    EXPECT_EQ(core::adapted_step_us(left(6, outward), core::forever_us), 30'000u);
    EXPECT_EQ(core::adapted_step_us(left(10, outward), 224'000), 22'400u);
}

TEST(LampCheck, EachBoundIsRefusedJustBeyondItAndAcceptedOnIt) {
    using E = core::LampError;
    EXPECT_EQ(core::check(group(Job::turn, Indication::off, 1)), E::no_side);
    EXPECT_EQ(core::check(left(0, outward)), E::no_lamps);
    EXPECT_EQ(core::check(left(2, core::in_blocks(0, 1))), E::empty_block);
    EXPECT_EQ(core::check(left(2, core::outward(5'000'000))), E::none);
    EXPECT_EQ(core::check(left(2, core::outward(5'000'001))), E::step_out_of_range);
    EXPECT_EQ(core::check(left(3, core::outward(2'500'001))), E::fill_too_long);
    EXPECT_EQ(core::check(left(3, core::ending(core::outward(2'000'000), 1'000'000, 0))), E::none);
    EXPECT_EQ(core::check(left(3, core::ending(core::outward(2'000'000), 1'000'001, 0))), E::fill_too_long);
    EXPECT_EQ(core::check(left(3, core::ending(core::together(), 5'000'001, 0))), E::stay_out_of_range);
    EXPECT_EQ(core::check(left(3, core::ending(core::together(), 0, 5'000'001))), E::blank_out_of_range);
    EXPECT_EQ(core::check(group(Job::stop, Indication::hazard, 18, outward)), E::only_turn_has_a_pattern);
    EXPECT_EQ(core::check(group(Job::stop, Indication::hazard, 18)), E::none);
}

TEST(SequenceCheck, EachBoundIsRefusedJustBeyondItAndAcceptedOnIt) {
    using E = core::SequenceError;
    const LampGroup plain[] = {left(2, outward)};
    const LampGroup bad[] = {left(0, outward)};
    EXPECT_EQ(core::check(own_rate(5'000'000, 5'000'000), plain, 1), E::none);
    EXPECT_EQ(core::check(own_rate(5'000'001, 1), plain, 1), E::on_out_of_range);
    EXPECT_EQ(core::check(own_rate(1, 5'000'001), plain, 1), E::dark_out_of_range);
    EXPECT_EQ(core::check(own_rate(1, 0), plain, 1), E::no_rate);
    EXPECT_EQ(core::check(own_rate(), plain, 1), E::no_rate) << "it has no blank";
    EXPECT_EQ(core::check(known_on_time(3'000'000), plain, 1), E::none);
    EXPECT_EQ(core::check(known_on_time(3'000'001), plain, 1), E::prior_out_of_range);
    EXPECT_EQ(core::check(following, bad, 1), E::bad_group);
}

} // namespace
} // namespace winkhold::testing
