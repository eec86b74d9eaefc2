// Volts from thresholds alone.
#include "support.hpp"

#include "winkhold/taps/inspect/amplitude.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using namespace winkhold::test;

/// Edges kept in memory.
class Listed : public host::EdgeSource {
public:
    explicit Listed(host::Trace trace) : trace_(std::move(trace)) {}
    bool next(host::Edge& edge) override {
        if (at_ == trace_.edges.size()) return false;
        edge = trace_.edges[at_++];
        return true;
    }
    TimeUs end_us() const override { return trace_.end_us; }

private:
    host::Trace trace_;
    std::size_t at_{0};
};

/// Left flashes at 12.6 V six times and feeds the right side; then right does and feeds the left.
host::Trace cross_fed(double ratio, double threshold_v) {
    host::Trace trace{.edges = {{0, core::Lines{}}}, .end_us = 12'000'000};
    TimeUs t_us = 100'000;
    for (const auto lit : {core::Lines::left, core::Lines::right}) {
        const auto fed = lit == core::Lines::left ? core::Lines::right : core::Lines::left;
        for (int i = 0; i < 6; ++i) {
            const auto lines =
                core::Lines{}.with(lit, 12.6 > threshold_v).with(fed, 12.6 * ratio > threshold_v);
            trace.edges.push_back({t_us, lines});
            trace.edges.push_back({t_us + 350'000, core::Lines{}});
            t_us += 700'000;
        }
        t_us += 2'000'000;
    }
    return trace;
}

std::optional<host::Amplitudes> amplitudes_at(double ratio) {
    const auto open = [ratio](double volts) { return std::make_unique<Listed>(cross_fed(ratio, volts)); };
    const auto source = open(5);
    return host::measure_amplitudes(host::inspect(*source), open);
}

class CrossFeed : public ::testing::TestWithParam<double> {};

TEST_P(CrossFeed, RatioIsFoundBelowAndAboveTheThreshold) {
    const auto found = amplitudes_at(GetParam());
    ASSERT_TRUE(found);
    EXPECT_NEAR(found->lit_v[0], 12.5, 0.01);
    EXPECT_EQ(found->fed_flashes, 12);
    EXPECT_NEAR(found->fed_ratio, GetParam(), 0.5 / 12.5);
}

// facts F06: .01, .2, .79 and 1.0; the first is below a step of 0.5 V, the last can't be told
INSTANTIATE_TEST_SUITE_P(Ratio, CrossFeed, ::testing::Values(0.2, 0.5, 0.79));

TEST(Amplitude, NothingIsFedWithoutCrossFeedOrWithAllOfIt) {
    EXPECT_EQ(amplitudes_at(0.01)->fed_flashes, 0);
    EXPECT_EQ(amplitudes_at(1.0)->fed_flashes, 0) << "no ratio can tell this from a hazard";
}

TEST(Amplitude, LevelsHaveNoVolts) {
    const auto open = [](double) { return std::make_unique<Listed>(cross_fed(0, 5)); };
    const auto source = open(5);
    EXPECT_FALSE(host::measure_amplitudes(host::inspect(*source), open));
}

} // namespace
