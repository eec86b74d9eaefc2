// The law that the whole sweep rests on: one pass gives, for every value of the swept setting, exactly what
// replaying the full decoder at that value gives.
#include "sweep/random_rides.hpp"
#include "winkhold/measure/sweep/reduce.hpp"
#include "winkhold/measure/sweep/response.hpp"
#include "winkhold/taps/trace/replay.hpp"

#include <gtest/gtest.h>

namespace winkhold::testing {
namespace {

core::Settings at_value(core::Settings settings, TimeUs value_us) {
    (settings.rule == core::HoldRule::fixed ? settings.hold_us : settings.guard_us) =
        static_cast<std::uint32_t>(value_us);
    return settings;
}

std::vector<TimeUs> sorted(std::vector<TimeUs> figures_us) {
    std::sort(figures_us.begin(), figures_us.end());
    return figures_us;
}

/// Compares at many values, among them those at which something has just changed.
void expect_law(const host::Trace& trace, const host::Truth& truth, const core::Settings& settings,
                RandomStream& random) {
    host::Phases phases;
    host::find_phases(trace, settings, phases);
    host::Responses responses;
    host::reduce(phases, truth, responses);
    responses.sort();
    const TimeUs least_us =
        settings.rule == core::HoldRule::paced
            ? 0
            : std::max({TimeUs{1'000}, TimeUs{settings.settle_us}, TimeUs{settings.pwm_gap_us}});
    std::vector<TimeUs> values_us{least_us, 5'000'000};
    for (int i = 0; i < 3; ++i)
        values_us.push_back(random.whole(least_us, 1'500'000));
    for (const auto& side : phases) // the gaps themselves, and 1 us to each side
        for (int i = 0; i < 2 && side.size() > 1; ++i) {
            const auto k =
                static_cast<std::size_t>(random.whole(0, static_cast<std::int64_t>(side.size()) - 2));
            const TimeUs gap_us = side[k + 1].rise_us - side[k].base_us;
            for (const TimeUs v : {gap_us - 1, gap_us, gap_us + 1})
                if (v >= least_us && v <= 5'000'000) values_us.push_back(v);
        }
    for (const TimeUs value_us : values_us) {
        host::Figures replayed;
        host::score(truth, host::decode(trace, at_value(settings, value_us)), replayed);
        const host::Figures one_pass = responses.at(value_us);
        ASSERT_EQ(one_pass.flashes, replayed.flashes);
        ASSERT_EQ(one_pass.dropouts, replayed.dropouts) << "at " << value_us;
        ASSERT_EQ(one_pass.false_shows, replayed.false_shows) << "at " << value_us;
        ASSERT_EQ(one_pass.missed, replayed.missed) << "at " << value_us;
        ASSERT_EQ(sorted(one_pass.overlap_us), sorted(replayed.overlap_us)) << "at " << value_us;
        ASSERT_EQ(sorted(one_pass.release_us), sorted(replayed.release_us)) << "at " << value_us;
        ASSERT_EQ(sorted(one_pass.acquire_us), sorted(replayed.acquire_us)) << "at " << value_us;
        ASSERT_EQ(responses.bikes_with_dropout.count(value_us), replayed.dropouts > 0 ? 1 : 0);
    }
}

class OnePassEqualsFullReplay : public ::testing::TestWithParam<host::SideChange> {};

TEST_P(OnePassEqualsFullReplay, OnRandomBikesUnderEveryRule) {
    for (std::uint64_t trial = 0; trial < 2'000; ++trial) {
        RandomStream random(11, trial);
        host::Scenario scenario = random_scenario(random, GetParam());
        const core::Settings settings = random_settings(random);
        host::RideMaker maker(scenario);
        const host::Ride& ride = maker.make(12, trial);
        ASSERT_NO_FATAL_FAILURE(expect_law(ride.trace, ride.truth, settings, random)) << "trial " << trial;
    }
}

INSTANTIATE_TEST_SUITE_P(Models, OnePassEqualsFullReplay,
                         ::testing::Values(host::SideChange::restart, host::SideChange::free_running,
                                           host::SideChange::whole_cycle));

TEST(OnePass, EqualsFullReplayOnNoise) {
    for (std::uint64_t trial = 0; trial < 6'000; ++trial) {
        RandomStream random(13, trial);
        const host::Ride ride = noise(random);
        ASSERT_NO_FATAL_FAILURE(expect_law(ride.trace, ride.truth, random_settings(random), random))
            << "trial " << trial;
    }
}

} // namespace
} // namespace winkhold::testing
