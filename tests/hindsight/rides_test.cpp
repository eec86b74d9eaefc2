// Rides whose rider is known: the smoother must be nearer to the rider than the causal answer.
#include "hindsight/support.hpp"

#include <map>

namespace winkhold::testing {
namespace {

constexpr const char* side_changes[] = {"restart", "free-running", "whole-cycle"};
constexpr const char* bikes[] = {"nominal", "unknown", "worn"};

/// What the rider asked for, switch to switch.
host::Timeline asked(const host::Truth& truth) {
    host::Timeline timeline{{0, Indication::off}};
    for (const host::Request& request : truth.requests) {
        if (timeline.back().t_us == request.start_us) timeline.pop_back();
        timeline.push_back({request.start_us, request.show});
        timeline.push_back({request.end_us, Indication::off});
    }
    return timeline;
}

/// The same from first light to last light: what a recording can prove.
host::Timeline lit(const host::Truth& truth) {
    host::Timeline timeline{{0, Indication::off}};
    for (const host::Request& request : truth.requests) {
        if (request.flashes == 0) continue;
        timeline.push_back({request.first_light_us, request.show});
        timeline.push_back({request.last_light_off_us, Indication::off});
    }
    return timeline;
}

/// How often a side goes out before its request's last light; a last light too short to settle is none.
int dropouts(const host::Timeline& timeline, const host::Scenario& scenario, const host::Truth& truth) {
    const TimeUs shortest_us = scenario.decoder.settle_us + scenario.contacts.bounce_us;
    int count = 0;
    for (const host::Request& request : truth.requests) {
        int lost = 0;
        for (std::size_t i = 1; i < timeline.size(); ++i) {
            const int gone = static_cast<int>(timeline[i - 1].indication) &
                             ~static_cast<int>(timeline[i].indication) & static_cast<int>(request.show);
            lost += gone != 0 && timeline[i].t_us > request.first_light_us &&
                    timeline[i].t_us < request.last_light_on_us;
        }
        const bool unseen = request.last_light_off_us - request.last_light_on_us < shortest_us;
        count += std::max(0, lost - (unseen ? 1 : 0));
    }
    return count;
}

struct Sums {
    double all_us{0};
    double causal_us{0};
    double smoother_us{0};
    double causal_lit_us{0};
    double smoother_lit_us{0};
    int causal_dropouts{0};
    int smoother_dropouts{0};
    int flashes{0};

    void add(const host::Scenario& scenario, const host::Ride& ride) {
        const host::Timeline causal = host::decode(ride.trace, scenario.decoder);
        const host::Timeline smoother = host::smooth(ride.trace, scenario.decoder).timeline;
        const TimeUs end_us = ride.truth.end_us;
        all_us += static_cast<double>(end_us);
        causal_us += static_cast<double>(differing_us(causal, asked(ride.truth), end_us));
        smoother_us += static_cast<double>(differing_us(smoother, asked(ride.truth), end_us));
        causal_lit_us += static_cast<double>(differing_us(causal, lit(ride.truth), end_us));
        smoother_lit_us += static_cast<double>(differing_us(smoother, lit(ride.truth), end_us));
        causal_dropouts += dropouts(causal, scenario, ride.truth);
        smoother_dropouts += dropouts(smoother, scenario, ride.truth);
        for (const host::Request& request : ride.truth.requests)
            flashes += request.flashes;
    }
};

class Rides : public ::testing::TestWithParam<const char*> {
protected:
    /// 108 rides: three bikes, 0 to 5 % jitter.
    Sums sums() const {
        Sums sums;
        for (const char* bike : bikes)
            for (const int jitter : {0, 1, 2, 3, 4, 5}) {
                const host::Scenario rides = scenario(bike, GetParam(), jitter);
                host::RideMaker maker(rides);
                for (std::uint64_t trial = 0; trial < 6; ++trial)
                    sums.add(rides, maker.make(21, trial));
            }
        return sums;
    }
};

TEST_P(Rides, TheSmootherIsNearerToTheRiderThanTheCausalAnswer) {
    const Sums s = sums();
    RecordProperty("wrong_percent_causal", fmt::format("{:.3f}", 100 * s.causal_us / s.all_us));
    RecordProperty("wrong_percent_smoother", fmt::format("{:.3f}", 100 * s.smoother_us / s.all_us));
    RecordProperty("wrong_percent_causal_lit", fmt::format("{:.3f}", 100 * s.causal_lit_us / s.all_us));
    RecordProperty("wrong_percent_smoother_lit", fmt::format("{:.3f}", 100 * s.smoother_lit_us / s.all_us));
    RecordProperty("dropouts_causal", s.causal_dropouts);
    RecordProperty("dropouts_smoother", s.smoother_dropouts);
    RecordProperty("flashes", s.flashes);
    EXPECT_LT(s.smoother_us, 0.95 * s.causal_us);
    EXPECT_LT(s.smoother_lit_us, 0.1 * s.causal_lit_us);
    EXPECT_LT(s.smoother_lit_us, 0.005 * s.all_us);
    EXPECT_GT(s.flashes, 2'500);
    EXPECT_LE(s.smoother_dropouts, s.flashes / 1'000) << "at least 99.9 % of flashes without a dropout";
    EXPECT_LE(s.smoother_dropouts, s.causal_dropouts);
}

TEST_P(Rides, SameRideSameAnswerToTheLastBit) {
    const host::Scenario rides = scenario("worn", GetParam(), 5);
    const host::Trace trace = host::RideMaker(rides).make(3, 1).trace;
    const host::Smoothed first = host::smooth(trace, rides.decoder);
    const host::Smoothed again = host::smooth(trace, rides.decoder);
    EXPECT_EQ(first.timeline, again.timeline);
    EXPECT_EQ(first.confidence, again.confidence);
    ASSERT_EQ(first.confidence.size(), first.timeline.size());
    for (const double sure : first.confidence) {
        EXPECT_GT(sure, 0);
        EXPECT_LE(sure, 1);
    }
}

TEST_P(Rides, LeftAndRightMirror) {
    const host::Scenario rides = scenario("nominal", GetParam(), 3);
    host::Trace trace = host::RideMaker(rides).make(8, 2).trace;
    const host::Timeline straight = host::smooth(trace, rides.decoder).timeline;
    const auto mirrored = [](int bits) { return (bits & ~3) | ((bits & 1) << 1) | ((bits & 2) >> 1); };
    for (host::Edge& edge : trace.edges)
        edge.lines = core::Lines(static_cast<std::uint8_t>(mirrored(edge.lines.bits())));
    host::Timeline mirror = host::smooth(trace, rides.decoder).timeline;
    for (host::IndicationChange& change : mirror)
        change.indication = static_cast<Indication>(mirrored(static_cast<int>(change.indication)));
    EXPECT_EQ(mirror, straight);
}

INSTANTIATE_TEST_SUITE_P(SideChange, Rides, ::testing::ValuesIn(side_changes), [](const auto& info) {
    std::string name = info.param;
    std::erase(name, '-');
    return name;
});

/// The kinds found on 40 rides.
std::map<host::Disagreement, int> kinds(const host::Scenario& rides, const core::Settings& settings) {
    std::map<host::Disagreement, int> kinds;
    host::RideMaker maker(rides);
    for (std::uint64_t trial = 0; trial < 40; ++trial) {
        const host::Trace& trace = maker.make(31, trial).trace;
        const host::Smoothed smoothed = host::smooth(trace, settings);
        for (const host::Disagreeing& found :
             host::disagreements(host::decode(trace, settings), smoothed.timeline,
                                 host::allowance(smoothed, settings), trace.end_us))
            ++kinds[found.kind];
    }
    return kinds;
}

TEST(Comparison, TheDefaultsDisagreeNowhereOnCleanRides) {
    for (const char* bike : {"nominal", "unknown"})
        for (const char* side_change : {"restart", "whole-cycle"})
            for (const int jitter : {0, 1}) {
                const host::Scenario rides = scenario(bike, side_change, jitter);
                EXPECT_TRUE(kinds(rides, rides.decoder).empty())
                    << bike << ' ' << side_change << ' ' << jitter << " %";
            }
}

TEST(Comparison, AHoldBelowTheDarkPhaseGivesDropoutsAndNothingElse) {
    const host::Scenario rides = scenario("nominal", "restart", 1);
    core::Settings fixed = rides.decoder;
    fixed.rule = core::HoldRule::fixed;
    fixed.hold_us = 250'000;
    fixed.cut_short = false;
    int dark_phases = 0;
    host::RideMaker maker(rides);
    for (std::uint64_t trial = 0; trial < 40; ++trial)
        for (const host::Request& request : maker.make(31, trial).truth.requests)
            dark_phases += request.flashes / (request.show == Indication::hazard ? 2 : 1) - 1;
    const auto found = kinds(rides, fixed);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found.begin()->first, host::Disagreement::dropout);
    // a last light too short to settle hides the dark phase before it
    EXPECT_LE(found.begin()->second, dark_phases);
    EXPECT_GE(found.begin()->second, dark_phases - 8);
}

} // namespace
} // namespace winkhold::testing
