// What an inspection says in words: noise, cut lights, one average of rates, the other taps, the watch.
#include "support.hpp"

#include "winkhold/taps/inspect/report.hpp"

#include <algorithm>
#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::test;

std::string said(const Inspection& seen) {
    std::string text;
    for (const std::string& sentence : host::verdict_of(seen))
        text += sentence + "\n";
    return text;
}

bool says(const Inspection& seen, const std::string& words) {
    return said(seen).find(words) != std::string::npos;
}

/// 40 flashes of 300 ms, dark for 400 ms, from 1 s on (28 s of them).
Changes forty_flashes() {
    return flashing(1'000'000, {{300'000, 400'000}}, 40);
}

/// In the dark behind the flash that is number `flash`, from 0.
void add_pulse(Changes& changes, int flash, TimeUs for_us) {
    const TimeUs at_us = 1'000'000 + flash * 700'000 + 300'000 + 150'000;
    const auto later = std::find_if(changes.begin(), changes.end(), [=](auto& c) { return c.t_us > at_us; });
    const Change pulse[]{{at_us, true}, {at_us + for_us, false}};
    changes.insert(later, std::begin(pulse), std::end(pulse));
}

/// In the light of that flash.
void add_break(Changes& changes, int flash, TimeUs for_us) {
    const TimeUs at_us = 1'000'000 + flash * 700'000 + 150'000;
    const auto later = std::find_if(changes.begin(), changes.end(), [=](auto& c) { return c.t_us > at_us; });
    const Change gap[]{{at_us, false}, {at_us + for_us, true}};
    changes.insert(later, std::begin(gap), std::end(gap));
}

// 8 pulses and 4 breaks in 30 s are 24 a minute. They stand from flash 20 on (15 s): flashes 20 to 31.
TEST(Noise, IsCountedPerMinuteAndPlaced) {
    Changes changes = forty_flashes();
    for (int i = 0; i < 8; ++i)
        add_pulse(changes, 20 + i, i % 2 == 0 ? 5'000 : 45'000);
    for (int i = 8; i < 12; ++i)
        add_break(changes, 20 + i, i % 2 == 0 ? 10'000 : 40'000);
    const Inspection seen = inspected(changes, {}, 30'000'000);
    const LineView& line = left_of(seen);
    EXPECT_EQ(line.pulses, 8);
    EXPECT_EQ(line.breaks, 4);
    ASSERT_TRUE(line.noise);
    EXPECT_NEAR(line.noise->per_min, 24, 1e-9);
    EXPECT_TRUE(says(seen, "The left line is noisy: 24 pulses a minute under 60 ms")) << said(seen);
    EXPECT_GE(line.noise->busiest_from_us, 15'000'000);
    EXPECT_LE(line.noise->busiest_to_us, 24'000'000);
    EXPECT_EQ(line.lights.size(), 40u) << "neither makes or breaks a flash";
    EXPECT_EQ(line.on.least_us, 300'000);
    EXPECT_EQ(line.on.most_us, 300'000);
    EXPECT_EQ(line.dark.most_us, 400'000);
    EXPECT_NEAR(line.rate.mean_of_rates_per_min, 60.0 / 0.7, 1e-6);
}

TEST(Noise, FiftyNineMillisecondsAreAPulseAndSixtyAFlash) {
    for (const TimeUs for_us : {59'999, 60'000}) {
        Changes changes = forty_flashes();
        add_pulse(changes, 3, for_us);
        EXPECT_EQ(left_of(inspected(changes, {}, 30'000'000)).pulses, for_us < 60'000 ? 1 : 0);
    }
}

TEST(Noise, TwoPulsesAmongFortyFlashesAreNone) {
    Changes changes = forty_flashes();
    add_pulse(changes, 3, 5'000);
    add_pulse(changes, 30, 5'000);
    EXPECT_FALSE(left_of(inspected(changes, {}, 30'000'000)).noise);
    EXPECT_FALSE(left_of(inspected(forty_flashes(), {}, 30'000'000)).noise);
}

TEST(Noise, BounceIsNone) {
    Changes changes;
    for (const Change& change : forty_flashes()) {
        changes.push_back(change);
        for (const TimeUs after_us : {2'000, 3'000}) // at rises and falls
            changes.push_back({change.t_us + after_us, change.high != (after_us == 2'000)});
    }
    const LineView line = left_of(inspected(changes, {}, 30'000'000));
    EXPECT_EQ(line.breaks, 0);
    EXPECT_FALSE(line.noise);
}

TEST(Noise, AQuickStrobeIsNone) {
    const LineView line = left_of(inspected(flashing(1'000'000, {{50'000, 50'000}}, 40), {}, 9'000'000));
    EXPECT_EQ(line.lights.size(), 40u) << "all lights are so short here";
    EXPECT_FALSE(line.noise);
}

// NHTSA letters on SAE J945 (read): by the cycles' rates this vector is 136.8/min, by the mean period 120.
// With 200 groups 400 cycles of 360 ms and 199 of 780: (400 * 166.67 + 199 * 76.92) / 599 = 136.85.
TEST(Verdict, SpeaksOfOneAverageOfRates) {
    const Inspection seen =
        inspected(flashing(1'000'000, {{160'000, 200'000}, {160'000, 200'000}, {160'000, 620'000}}, 200), {},
                  302'000'000);
    EXPECT_TRUE(says(seen, "flashes at 136.9/min")) << said(seen);
    EXPECT_TRUE(says(seen, "rate is over 120/min"));
    EXPECT_FALSE(says(seen, "120.0/min"));
}

TEST(Verdict, ALightThatTheRecordingCutsHasNoLength) {
    const Inspection seen = inspected({{1'000'000, true}}, {}, 1'200'000);
    EXPECT_TRUE(says(seen, "lights once, and the recording ends in it")) << said(seen);
    EXPECT_FALSE(says(seen, "200 ms"));
}

// Default settings hear chatter in a line that is chopped, and a stuck line in one that is upside down.
TEST(Watch, RunsWithWhatIsSuggested) {
    const Inspection dimmed = inspected(chopped(forty_flashes(), 6'830, 500), {}, 30'000'000);
    EXPECT_GT(dimmed.pwm_gap.us, 6'330);
    EXPECT_TRUE(left_of(dimmed).faults.empty());
    const Inspection turned = inspected(inverted(forty_flashes()), {}, 40'000'000);
    EXPECT_TRUE(turned.inverted());
    EXPECT_TRUE(left_of(turned).faults.empty());
    const Inspection quick = inspected(flashing(1'000'000, {{150'000, 150'000}}, 40), {}, 16'000'000);
    EXPECT_EQ(left_of(quick).faults.count(core::fast_flash), 1u) << "200/min";
}

// Over 65,536 edges are kept in a file: 40 lights of 400 ms at 5 kHz have 160,000.
TEST(Watch, HearsRecordingsWithMoreEdgesThanMemoryKeeps) {
    Changes changes = chopped(flashing(1'000'000, {{400'000, 300'000}}, 40), 200, 100);
    changes.push_back({30'000'000, true});
    const Inspection seen = inspected(changes, {}, 40'000'000);
    EXPECT_EQ(left_of(seen).faults.count(core::stuck_on), 1u) << "lit for 10 s at the end" << said(seen);
}

// Brake: 1.5 s and 10 ms of 10 s. Supply: high but for 50 ms and 200 ms; the second is no dip.
TEST(OtherTaps, ThatAreEverHighAreShown) {
    host::Inspector inspector;
    const auto supply = core::Lines{}.with(core::Lines::supply, true);
    inspector.feed({0, supply});
    inspector.feed({1'000'000, supply.with(core::Lines::brake, true)});
    inspector.feed({2'500'000, supply});
    inspector.feed({3'000'000, supply.with(core::Lines::brake, true)});
    inspector.feed({3'010'000, supply});
    inspector.feed({4'000'000, {}});
    inspector.feed({4'050'000, supply});
    inspector.feed({5'000'000, {}});
    inspector.feed({5'200'000, supply});
    const Inspection seen = inspector.finish(10'000'000);
    ASSERT_EQ(seen.others.size(), 2u) << "no tail";
    const host::OtherTap& brake = seen.others[0];
    EXPECT_EQ(brake.tap, core::Lines::brake);
    EXPECT_EQ(brake.times, 2);
    EXPECT_NEAR(brake.high_percent, 15.1, 1e-9);
    EXPECT_EQ(brake.longest_high_us, 1'500'000);
    EXPECT_EQ(brake.short_highs, 1);
    const host::OtherTap& power = seen.others[1];
    EXPECT_EQ(power.tap, core::Lines::supply);
    EXPECT_EQ(power.times, 3);
    EXPECT_EQ(power.dips, 1);
    EXPECT_EQ(power.longest_dip_us, 50'000);
    EXPECT_NE(host::inspect_text(seen, "any").find("brake"), std::string::npos);
}

} // namespace
