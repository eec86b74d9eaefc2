// Published flash-rate limits and the agency's averaging examples, as input to the decoder.
#include "winkhold/taps/trace/phases.hpp"
#include "winkhold/taps/trace/timeline.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using core::Indication;
using host::TimeUs;

struct Pulse {
    TimeUs on_us;
    TimeUs dark_us;
};

host::Trace left_flashes(const std::vector<Pulse>& pattern, int repeats) {
    host::Trace trace;
    TimeUs t_us = 100'000;
    for (int i = 0; i < repeats; ++i)
        for (const Pulse& pulse : pattern) {
            trace.edges.push_back({t_us, core::Lines(core::Lines::left)});
            trace.edges.push_back({t_us + pulse.on_us, core::Lines{}});
            t_us += pulse.on_us + pulse.dark_us;
        }
    trace.end_us = t_us;
    return trace;
}

int times_lost(const host::Trace& trace, const core::Settings& settings) {
    int lost = -1; // the release at the end is none
    for (const auto& change : host::decode(trace, settings))
        lost += change.indication == Indication::off && change.t_us > trace.edges.front().t_us;
    return std::max(lost, 0);
}

core::Settings fixed_hold(std::uint32_t hold_us) {
    core::Settings settings;
    settings.rule = core::HoldRule::fixed;
    settings.cut_short = false;
    settings.hold_us = hold_us;
    return settings;
}

/// Flashes a minute, as the mean of each cycle's own rate and from the mean period.
struct Rates {
    double mean_of_rates;
    double from_mean_period;
};

Rates rates(const host::Trace& trace) {
    host::Phases phases;
    host::find_phases(trace, core::Settings{}, phases);
    const auto& left = phases[0];
    double sum = 0;
    for (std::size_t i = 0; i + 1 < left.size(); ++i)
        sum += 60e6 / static_cast<double>(left[i + 1].rise_us - left[i].rise_us);
    const auto cycles = static_cast<double>(left.size() - 1);
    return {sum / cycles, 60e6 * cycles / static_cast<double>(left.back().rise_us - left.front().rise_us)};
}

// NHTSA interpretation letters 01931ztv and GF006498 on SAE J945 (read): the agency averages the rates of the
// cycles, not their periods.
TEST(AveragingExamples, FirstVectorIsRejectedByTheMeanOfRatesThoughTheMeanPeriodWouldPass) {
    const host::Trace trace =
        left_flashes({{160'000, 200'000}, {160'000, 200'000}, {160'000, 620'000}}, 1'000);
    EXPECT_NEAR(rates(trace).mean_of_rates, 136.8, 0.1);
    EXPECT_NEAR(rates(trace).from_mean_period, 120.0, 0.1);
    EXPECT_EQ(times_lost(trace, fixed_hold(760'000)), 0);
    EXPECT_LE(times_lost(trace, core::Settings{}), 1) << "the paced rule learns the long gap from one miss";
}

TEST(AveragingExamples, SecondVectorIsAccepted) {
    const host::Trace trace =
        left_flashes({{200'000, 250'000}, {200'000, 250'000}, {200'000, 850'000}}, 1'000);
    EXPECT_NEAR(rates(trace).mean_of_rates, 107.9, 0.1);
    EXPECT_EQ(times_lost(trace, fixed_hold(860'000)), 0);
    EXPECT_GT(times_lost(trace, fixed_hold(760'000)), 900) << "850 ms dark exceed the default hold";
}

/// Rates and shares of a published limit, at its corners.
struct Limit {
    const char* source;
    double least_per_min, most_per_min;
};

class PublishedLimits : public ::testing::TestWithParam<Limit> {};

// Percent on time 30-75 %: 49 CFR 571.108 Figure 2 / SAE J590 (from memory).
TEST_P(PublishedLimits, AreSteadyAtEveryCornerUnderTheDefaultSettings) {
    for (const double rate : {GetParam().least_per_min, GetParam().most_per_min})
        for (const double duty : {0.30, 0.50, 0.75}) {
            const double period_us = 60e6 / rate;
            const auto on_us = static_cast<TimeUs>(period_us * duty);
            const host::Trace trace = left_flashes({{on_us, static_cast<TimeUs>(period_us) - on_us}}, 200);
            EXPECT_EQ(times_lost(trace, core::Settings{}), 0) << rate << "/min, duty " << duty;
            EXPECT_EQ(times_lost(trace, fixed_hold(760'000)), 0) << rate << "/min, duty " << duty;
        }
}

INSTANTIATE_TEST_SUITE_P(
    FlashRate, PublishedLimits,
    ::testing::Values(Limit{"UN R53 6.3.8.1, 90 +- 30 /min (quoted)", 60, 120},
                      Limit{"Swiss VTS art. 79(2), 90 +- 30 /min (read)", 60, 120},
                      Limit{"German StVZO 54(1), 1.5 +- 0.5 Hz (read)", 60, 120},
                      Limit{"SAE J945 para 3, normally closed flashers (read in NHTSA letters)", 90, 120}));

TEST(PublishedLimits, AboveTheCeilingIsReportedAndStillDecoded) {
    // 120/min is the ceiling of all of them; a lamp out takes an electronic flasher to x 2.15-2.3 (data
    // sheets, read)
    const host::Trace trace = left_flashes({{76'000, 114'000}}, 50);
    host::Replay replay{core::Settings{}};
    std::uint8_t faults = 0;
    Indication last = Indication::off;
    const auto look = [&](TimeUs, const core::Decoder& decoder) {
        faults |= decoder.faults(core::Side::left);
        last = decoder.indication();
    };
    for (const auto& edge : trace.edges)
        replay.feed(edge, look);
    EXPECT_EQ(faults, core::fast_flash);
    EXPECT_EQ(last, Indication::left);
}

} // namespace
