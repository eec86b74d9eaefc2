// Volts from thresholds alone.
#include "support.hpp"

#include "winkhold/taps/inspect/amplitude.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::test;

/// Left flashes at 12.6 V six times and feeds the right side; then right does and feeds the left.
struct Sample {
    TimeUs t_us;
    double left_v, right_v;
};
std::vector<Sample> cross_fed(double ratio) {
    std::vector<Sample> samples{{0, 0, 0}};
    TimeUs t_us = 100'000;
    for (const bool left : {true, false}) {
        for (int i = 0; i < 6; ++i) {
            samples.push_back({t_us, left ? 12.6 : 12.6 * ratio, left ? 12.6 * ratio : 12.6});
            samples.push_back({t_us + 350'000, 0, 0});
            t_us += 700'000;
        }
        t_us += 2'000'000;
    }
    return samples;
}

constexpr TimeUs end_us = 13'000'000;

host::Inspection inspected_at_5_v(const std::vector<Sample>& samples) {
    host::Inspector inspector;
    for (const Sample& s : samples)
        inspector.feed(
            {s.t_us,
             core::Lines{}.with(core::Lines::left, s.left_v > 5).with(core::Lines::right, s.right_v > 5)});
    return inspector.finish(end_us);
}

std::optional<host::Amplitudes> amplitudes_of(const std::vector<Sample>& samples) {
    host::AmplitudeMeter meter(inspected_at_5_v(samples));
    for (const Sample& s : samples) {
        meter.volts(s.t_us, core::Side::left, s.left_v);
        meter.volts(s.t_us, core::Side::right, s.right_v);
    }
    return meter.finish(end_us);
}

std::optional<host::Amplitudes> amplitudes_at(double ratio) {
    return amplitudes_of(cross_fed(ratio));
}

class CrossFeed : public ::testing::TestWithParam<double> {};

TEST_P(CrossFeed, RatioIsFoundBelowAndAboveTheThreshold) {
    const auto found = amplitudes_at(GetParam());
    ASSERT_TRUE(found);
    EXPECT_NEAR(found->lit_v[0], 12.6, 0.1);
    EXPECT_EQ(found->fed_flashes, 12);
    EXPECT_NEAR(found->fed_ratio, GetParam(), 0.1 / 12.6);
}

// facts F06: .01, .2, .79 and 1.0; the first is at rest (below 0.5 V), the last can't be told
INSTANTIATE_TEST_SUITE_P(Ratio, CrossFeed, ::testing::Values(0.2, 0.5, 0.79));

TEST(Amplitude, NothingIsFedWithoutCrossFeedOrWithAllOfIt) {
    EXPECT_EQ(amplitudes_at(0.01)->fed_flashes, 0);
    EXPECT_EQ(amplitudes_at(1.0)->fed_flashes, 0) << "no ratio can tell this from a hazard";
}

// Four fifths of the light at 12.0 V, behind a rise that overshoots to 14 V for 40 ms and a noisy sample: the
// median is 12.0, whatever the number of samples.
TEST(Amplitude, IsTheVoltageThatStandsLongest) {
    std::vector<Sample> samples{{0, 0, 0}};
    for (TimeUs t_us = 100'000; t_us < 5'000'000; t_us += 700'000) {
        samples.push_back({t_us, 14, 0});
        samples.push_back({t_us + 70'000, 12.04, 0});
        for (TimeUs noise_us = 100'000; noise_us < 110'000; noise_us += 100)
            samples.push_back({t_us + noise_us, 9 + static_cast<double>(noise_us % 300) / 100, 0});
        samples.push_back({t_us + 110'000, 12.04, 0});
        samples.push_back({t_us + 350'000, 0, 0});
    }
    EXPECT_NEAR(amplitudes_of(samples)->lit_v[0], 12.0, 0.1);
    EXPECT_EQ(amplitudes_of(samples)->lit_v[1], 0);
}

TEST(Amplitude, LevelsHaveNoVolts) {
    host::AmplitudeMeter meter(inspected_at_5_v(cross_fed(0)));
    EXPECT_FALSE(meter.finish(end_us));
}

} // namespace
