// Rules that planted faults (tests/mutation/) showed to be told by no other story.
#include "core/story.hpp"

namespace winkhold::testing {
namespace {

class Gaps : public Stories {};

core::Settings settings_of(core::HoldRule rule, bool cut_short) {
    core::Settings s;
    s.hold_us = 1'000'000;
    s.rule = rule;
    s.cut_short = cut_short;
    s.guard_us = s.cut_margin_us = 20'000;
    s.spread = false;
    return s;
}

const core::Settings cutting = settings_of(core::HoldRule::fixed, true);
const core::Settings pacing = settings_of(core::HoldRule::paced, false);

core::Settings spreading(std::uint32_t guard_us = 20'000) {
    core::Settings s = pacing;
    s.guard_us = guard_us;
    s.spread = true;
    return s;
}

core::Settings with_prior() {
    core::Settings s = spreading();
    s.gap_prior_us = 300'000;
    return s;
}

core::Settings cutting_with(bool spread, std::uint32_t settle_us) {
    core::Settings s = cutting;
    s.spread = spread;
    s.settle_us = settle_us;
    return s;
}

core::Settings holding_2_s() {
    core::Settings s = pacing;
    s.hold_us = 2'000'000;
    return s;
}

std::vector<Row> told(std::vector<Row> rows, const std::vector<Row>& more) {
    rows.insert(rows.end(), more.begin(), more.end());
    return rows;
}

/// Left is lit from 0 on and shown from 5 ms.
const std::vector<Row> first{{0, "L1", ""}, {5'000, "", "left"}};
/// Two flashes of 200 ms from rise to last high; the third begins at 800 ms.
const std::vector<Row> two_flashes =
    told(first, {{205'000, "L0", ""}, {400'000, "L1", ""}, {605'000, "L0", ""}, {800'000, "L1", ""}});
/// The third flash was cut short after 100 ms, but at 1 s the line is back.
const std::vector<Row> false_cut = told(
    two_flashes, {{905'000, "L0", ""}, {910'000, "", "off"}, {1'000'000, "L1", ""}, {1'005'000, "", "left"}});

/// The second flash chatters; then whole flashes follow until one begins `after` flashes later.
std::vector<Row> chattered(std::uint32_t after) {
    std::vector<Row> rows = told(first, {{205'000, "L0", ""},
                                         {400'000, "L1", ""},
                                         {500'000, "L0", ""},
                                         {510'000, "L1", ""},
                                         {605'000, "L0", ""}});
    for (std::uint32_t i = 1; i < after; ++i) {
        rows.push_back({400'000 + i * 400'000, "L1", ""});
        rows.push_back({605'000 + i * 400'000, "L0", ""});
    }
    rows.push_back({400'000 + after * 400'000, "L1", ""});
    return rows;
}

/// Flashes of 200 ms with dark gaps of 200 ms from last high to settled rise; the sixth rise may come late.
std::vector<Row> sixth_rise(std::uint32_t late_us) {
    std::vector<Row> rows = first;
    for (std::uint32_t i = 0; i < 5; ++i) {
        rows.push_back({205'000 + i * 400'000, "L0", ""});
        rows.push_back({400'000 + i * 400'000 + (i == 4 ? late_us : 0), "L1", ""});
    }
    return rows;
}

const Story gaps[] = {
    // 220 learned as 3438 units; the step is 25/256; 3 * 25/256 * 3438 = 1007, 3438 / 64 = 53; + 20 guard
    {"three_times_the_largest_step_is_added", spreading(),
     told(sixth_rise(20'000), {{2'225'000, "L0", ""}, {2'532'871, "", ""}, {2'532'872, "", "off"}})},
    // two durations later the step has faded to 24/256: 966
    {"old_steps_fade", spreading(),
     told(sixth_rise(20'000), {{2'225'000, "L0", ""},
                               {2'440'000, "L1", ""},
                               {2'645'000, "L0", ""},
                               {2'950'247, "", ""},
                               {2'950'248, "", "off"}})},
    {"a_step_of_a_third_is_a_change_of_rhythm", spreading(120'000), // 4219 units + 1/64 + 120 guard
     told(sixth_rise(70'000), {{2'275'000, "L0", ""}, {2'669'175, "", ""}, {2'669'176, "", "off"}})},
    {"a_dark_gap_beyond_1_s_teaches_nothing", holding_2_s(),
     told(first,
          {{200'000, "L0", ""}, {1'195'001, "L1", ""}, {1'500'000, "L0", ""}, {3'500'000, "", "off"}})},
    {"a_stuck_line_is_no_flash_that_could_be_carried_on", pacing, // 15 learned as 15.040, + 20 guard
     told(first,
          {{4'000'000, "L0", ""}, {4'010'000, "L1", ""}, {4'300'000, "L0", ""}, {4'335'040, "", "off"}})},
    {"a_first_short_flash_begins_no_new_rhythm", cutting,
     told(two_flashes, {{1'005'000, "L0", ""},
                        {2'005'000, "", "off"},
                        {3'000'000, "L1", ""},
                        {3'005'000, "", "left"},
                        {3'105'000, "L0", ""},
                        {3'200'000, "L1", ""},
                        {3'305'000, "L0", ""},
                        {3'310'000, "", "off"},
                        {3'400'000, "L1", ""},
                        {3'405'000, "", "left"},
                        {3'505'000, "L0", ""},
                        {3'600'000, "L1", ""},
                        {3'650'000, "L0", ""},
                        {3'655'000, "", "off"}})},
    {"two_unlike_short_flashes_are_no_new_rhythm", cutting,
     told(false_cut,
          {{1'055'000, "L0", ""}, {1'200'000, "L1", ""}, {1'232'000, "L0", ""}, {2'232'000, "", "off"}})},
    {"a_gap_1_us_short_of_chatter_teaches_nothing", pacing,
     told(first, {{100'000, "L0", ""}, {119'999, "L1", ""}, {300'000, "L0", ""}, {1'300'000, "", "off"}})},
    {"a_gap_as_long_as_chatter_is_one", pacing, // 25.000 learned as 25.024, + 20 guard
     told(first, {{100'000, "L0", ""}, {120'000, "L1", ""}, {300'000, "L0", ""}, {345'024, "", "off"}})},
    {"a_very_short_flash_waits_for_chatter_to_end", cutting,
     told(two_flashes, {{815'000, "L0", ""}, {839'999, "", ""}, {840'000, "", "off"}})},
    {"a_flash_of_chatter_length_is_cut_at_once", cutting,
     told(two_flashes, {{830'000, "L0", ""}, {835'000, "", "off"}})},
    {"a_line_known_to_chatter_waits_for_it_to_end", cutting,
     told(chattered(1), {{900'000, "L0", ""}, {924'999, "", ""}, {925'000, "", "off"}})},
    {"seven_flashes_later_it_is_still_known", cutting,
     told(chattered(7), {{3'300'000, "L0", ""}, {3'324'999, "", ""}, {3'325'000, "", "off"}})},
    {"eight_flashes_later_it_is_forgotten", cutting,
     told(chattered(8), {{3'700'000, "L0", ""}, {3'705'000, "", "off"}})},
    {"the_first_flash_after_silence_is_never_cut", cutting,
     told(two_flashes, {{1'005'000, "L0", ""},
                        {2'005'000, "", "off"},
                        {3'000'000, "L1", ""},
                        {3'005'000, "", "left"},
                        {3'100'000, "L0", ""},
                        {4'099'999, "", ""},
                        {4'100'000, "", "off"}})},
    {"after_a_gap_within_the_margin_a_flash_may_be_cut", cutting, // 200 + 20, to the next 64 us
     told(two_flashes,
          {{1'005'000, "L0", ""}, {1'220'032, "L1", ""}, {1'325'000, "L0", ""}, {1'330'000, "", "off"}})},
    {"after_a_gap_beyond_it_the_flash_may_be_joined_midway", cutting,
     told(two_flashes, {{1'005'000, "L0", ""},
                        {1'220'033, "L1", ""},
                        {1'325'000, "L0", ""},
                        {2'324'999, "", ""},
                        {2'325'000, "", "off"}})},
    {"a_first_flash_shorter_than_the_second_taught_nothing", cutting,
     told(first, {{105'000, "L0", ""},
                  {300'000, "L1", ""},
                  {505'000, "L0", ""},
                  {700'000, "L1", ""},
                  {905'000, "L0", ""},
                  {1'100'000, "L1", ""},
                  {1'255'000, "L0", ""},
                  {1'260'000, "", "off"}})},
    {"a_later_longer_flash_unteaches_nothing", cutting,
     told(two_flashes,
          {{1'105'000, "L0", ""}, {1'300'000, "L1", ""}, {1'405'000, "L0", ""}, {1'410'000, "", "off"}})},
    {"after_a_false_cut_one_like_flash_is_not_enough", cutting,
     told(false_cut, {{1'205'000, "L0", ""},
                      {1'400'000, "L1", ""},
                      {1'450'000, "L0", ""},
                      {2'449'999, "", ""},
                      {2'450'000, "", "off"}})},
    {"after_a_false_cut_two_like_flashes_are_enough", cutting,
     told(false_cut, {{1'205'000, "L0", ""},
                      {1'400'000, "L1", ""},
                      {1'605'000, "L0", ""},
                      {1'800'000, "L1", ""},
                      {1'850'000, "L0", ""},
                      {1'855'000, "", "off"}})},
    {"on_times_are_rounded_down", cutting, // 200.001 learned as 200.000, so 180 is within the margin
     told(first, {{205'001, "L0", ""},
                  {400'000, "L1", ""},
                  {605'001, "L0", ""},
                  {800'000, "L1", ""},
                  {985'000, "L0", ""},
                  {1'984'999, "", ""},
                  {1'985'000, "", "off"}})},
    {"a_prior_gap_grows_by_a_quarter_where_spread_counts", with_prior(),
     told(first, {{200'000, "L0", ""}, {594'999, "", ""}, {595'000, "", "off"}})},
    {"a_gap_five_flashes_ago_is_forgotten", pacing,
     told(sixth_rise(10'000), {{2'215'000, "L0", ""},
                               {2'410'000, "L1", ""},
                               {2'615'000, "L0", ""},
                               {2'810'000, "L1", ""},
                               {3'015'000, "L0", ""},
                               {3'210'000, "L1", ""},
                               {3'415'000, "L0", ""},
                               {3'610'000, "L1", ""},
                               {3'815'000, "L0", ""},
                               {4'035'000, "", "off"}})},
    {"a_flash_as_short_as_the_shortest_learned_is_not_cut", cutting,
     told(two_flashes,
          {{1'105'000, "L0", ""}, {1'300'000, "L1", ""}, {1'505'000, "L0", ""}, {2'505'000, "", "off"}})},
    {"a_first_flash_within_the_margin_is_learned", cutting,
     told(first, {{200'000, "L0", ""},
                  {400'000, "L1", ""},
                  {605'000, "L0", ""},
                  {800'000, "L1", ""},
                  {905'000, "L0", ""},
                  {910'000, "", "off"}})},
    {"a_longer_flash_after_silence_unteaches_nothing", cutting,
     told(two_flashes, {{1'005'000, "L0", ""},
                        {2'005'000, "", "off"},
                        {3'000'000, "L1", ""},
                        {3'005'000, "", "left"},
                        {3'205'000, "L0", ""},
                        {3'400'000, "L1", ""},
                        {3'705'000, "L0", ""},
                        {3'900'000, "L1", ""},
                        {4'005'000, "L0", ""},
                        {4'010'000, "", "off"}})},
    {"one_very_short_flash_is_no_new_rhythm", cutting,
     told(two_flashes, {{815'000, "L0", ""},
                        {840'000, "", "off"},
                        {1'000'000, "L1", ""},
                        {1'005'000, "", "left"},
                        {1'205'000, "L0", ""},
                        {1'400'000, "L1", ""},
                        {1'605'000, "L0", ""},
                        {1'800'000, "L1", ""},
                        {1'905'000, "L0", ""},
                        {1'910'000, "", "off"}})},
    {"a_flash_shorter_than_a_unit_is_learned_as_one",
     cutting_with(false, 0),
     {{0, "L1", "left"},
      {50, "L0", ""},
      {200'000, "L1", ""},
      {200'050, "L0", ""},
      {400'000, "L1", ""},
      {600'000, "L0", ""},
      {800'000, "L1", ""},
      {1'000'000, "L0", ""},
      {1'200'000, "L1", ""},
      {1'300'000, "L0", ""},
      {2'300'000, "", "off"}}},
    // 200 learned as 3125 units; 313 margin and 781 spread off leave 2031, and so is 130 learned
    {"a_flash_short_by_just_margin_and_spread_is_not_cut", cutting_with(true, 5'000),
     told(two_flashes, {{935'000, "L0", ""}, {1'935'000, "", "off"}})},
    // 3125 + 3125 / 8 units + 20 guard
    {"three_gaps_are_trusted_with_an_eighth_on_top", spreading(),
     told(first, {{205'000, "L0", ""},
                  {400'000, "L1", ""},
                  {605'000, "L0", ""},
                  {800'000, "L1", ""},
                  {1'005'000, "L0", ""},
                  {1'200'000, "L1", ""},
                  {1'405'000, "L0", ""},
                  {1'649'959, "", ""},
                  {1'649'960, "", "off"}})},
    // the step is 312/3125 = 25/256, and 24 a duration later; 3 * 24/256 * 3125 = 878, 3125 / 64 = 48; + 20
    {"jitter_of_on_times_is_added_to_gaps", spreading(),
     told(sixth_rise(0), {{2'225'000, "L0", ""},
                          {2'420'000, "L1", ""},
                          {2'625'000, "L0", ""},
                          {2'904'263, "", ""},
                          {2'904'264, "", "off"}})},
    // a step of 25 units in 3200 is 2/256; 6/256 of 3225 are 75 units, 1/64 is 50; + 20 guard
    {"a_step_of_a_whole_share_counts_in_full", spreading(),
     told(first, {{205'000, "L0", ""},
                  {404'800, "L1", ""},
                  {609'800, "L0", ""},
                  {809'600, "L1", ""},
                  {1'014'600, "L0", ""},
                  {1'214'400, "L1", ""},
                  {1'419'400, "L0", ""},
                  {1'619'200, "L1", ""},
                  {1'824'200, "L0", ""},
                  {2'025'600, "L1", ""},
                  {2'230'600, "L0", ""},
                  {2'464'999, "", ""},
                  {2'465'000, "", "off"}})},
    {"without_cut_short_a_short_flash_is_held", pacing,
     told(two_flashes, {{905'000, "L0", ""}, {1'125'000, "", "off"}})},
};

INSTANTIATE_TEST_SUITE_P(Rule, Gaps, ::testing::ValuesIn(gaps),
                         [](const auto& info) { return info.param.rule; });

TEST_P(Gaps, HoldAtTwoCadencesAcrossTheWrapAndMirrored) {
    for (const std::uint32_t start_us : {0u, 0u - 300'000u})
        for (const bool mirrored : {false, true})
            for (const std::uint32_t scan_us : {0u, 7u}) {
                SCOPED_TRACE(::testing::Message() << "start " << start_us << (mirrored ? ", mirrored" : "")
                                                  << ", scan " << scan_us);
                ASSERT_NO_FATAL_FAILURE(expect_story(GetParam(), start_us, mirrored, scan_us));
            }
}

TEST(SettleGaps, AChoppedLineStaysOnUntilTheLowIsAsLongAsThePwmGap) {
    core::Settings s;
    s.settle_us = 0;
    s.pwm_gap_us = 20'000;
    core::Context c(s);
    core::Settle line;
    EXPECT_EQ(line.change(c), core::SettledEdge::rise);
    c.now = {200};
    EXPECT_EQ(line.change(c), core::SettledEdge::none);
    c.now = {20'199};
    EXPECT_EQ(line.expire(c), core::SettledEdge::none);
    c.now = {20'200};
    EXPECT_EQ(line.expire(c), core::SettledEdge::fall);
}

TEST(SettingsGaps, EachLongestMarginIsStillAccepted) {
    core::Settings s;
    s.guard_us = 5'000'000;
    s.cut_margin_us = s.supply_gone_us = 1'000'000;
    EXPECT_EQ(core::check(s), core::SettingsError::none);
    s.pwm_gap_us = 20'000;
    s.gap_prior_us = 19'999;
    EXPECT_EQ(core::check(s), core::SettingsError::gap_prior_out_of_range);
}

TEST(MicrosGaps, ADeadlineHalfTheClockAwayIsAhead) {
    EXPECT_TRUE(core::reached(core::Micros{0x7fffffffu}, core::Micros{0}));
    EXPECT_FALSE(core::reached(core::Micros{0x80000000u}, core::Micros{0}));
    EXPECT_FALSE((core::Alarm{false, {0}}.due({1})));
    EXPECT_TRUE(core::reached(core::Moment{0x7fffffu}, core::Moment{0}));
    EXPECT_FALSE(core::reached(core::Moment{0x800000u}, core::Moment{0}));
}

} // namespace
} // namespace winkhold::testing
