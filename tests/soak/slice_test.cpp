// A slice of the long run, and the rules that its figures rest on.
#include "program/run.hpp"
#include "winkhold/measure/score/figures.hpp"
#include "winkhold/measure/score/plain_hold.hpp"
#include "winkhold/measure/soak/bike.hpp"
#include "winkhold/measure/soak/soak.hpp"
#include "winkhold/measure/soak/tally.hpp"

#include <nlohmann/json.hpp>

namespace winkhold::testing {
namespace {

using Json = nlohmann::json;

TEST(Soak, a_million_flashes_are_the_same_on_any_number_of_threads) {
    const Scratch scratch;
    const Ran one = scratch.run("prove soak --flashes 1e6 --seed 5 --json --threads 1");
    const Ran three = scratch.run("prove soak --flashes 1e6 --seed 5 --json --threads 3");
    EXPECT_EQ(one.out, three.out);
    const Json soak = Json::parse(one.out);
    EXPECT_EQ(soak["schema"], "winkhold.soak/1");
    EXPECT_GE(soak["flashes"], 1'000'000);
    EXPECT_EQ(one.exit_code, soak["unexplained"] == 0 && soak["misses"].empty() ? 0 : 1);
    EXPECT_EQ(soak["axes"].size(), 14u);
    std::int64_t unexplained = 0;
    for (const Json& population : soak["populations"]) {
        std::int64_t dropouts = 0;
        for (const Json& finding : population["findings"]) {
            if (finding["blame"] == "unexplained") unexplained += finding["count"].get<std::int64_t>();
            if (finding["kind"] == "dropout") dropouts += finding["count"].get<std::int64_t>();
        }
        EXPECT_EQ(population["dropouts"], dropouts);
    }
    EXPECT_EQ(soak["unexplained"], unexplained);
}

TEST(Soak, every_dropout_false_show_and_miss_that_the_score_counts_is_judged) {
    const host::SoakPlan plan{.settings = {}, .seed = 9, .state_file = {}};
    std::int64_t found[3]{};
    host::Figures figures;
    for (std::int64_t ride = 0; ride < 400; ++ride) {
        const host::SoakRun run = host::run_soak_ride(plan, ride);
        host::score(run.ride.truth, run.timeline, figures);
        for (const host::SoakFinding& finding : run.verdict.findings)
            if (finding.kind <= host::SoakKind::missed) ++found[static_cast<std::size_t>(finding.kind)];
    }
    EXPECT_GT(figures.dropouts, 0);
    EXPECT_EQ(found[0], figures.dropouts);
    EXPECT_EQ(found[1], figures.false_shows);
    EXPECT_EQ(found[2], figures.missed);
}

TEST(Soak, drawn_bikes_and_settings_reach_over_the_axes) {
    double least_ms = 1e9;
    double most_ms = 0;
    int models[3]{};
    int drawn = 0;
    int disturbed = 0;
    int axes[host::soak_axes.size()]{};
    for (std::uint64_t ride = 0; ride < 2'000; ++ride) {
        const host::SoakRide soak = host::draw_soak_ride(3, ride, {});
        ASSERT_EQ(core::check(soak.scenario.decoder), core::SettingsError::none) << ride;
        const double period_ms = 60e3 / soak.scenario.flasher.rate_per_min.least;
        least_ms = std::min(least_ms, period_ms);
        most_ms = std::max(most_ms, period_ms);
        ++models[static_cast<int>(soak.scenario.flasher.side_change)];
        drawn += soak.population == host::SoakPopulation::drawn_settings;
        disturbed += soak.population == host::SoakPopulation::disturbed;
        EXPECT_EQ(soak.population == host::SoakPopulation::disturbed, !soak.axes.empty());
        for (const host::SoakAxis axis : soak.axes)
            ++axes[static_cast<std::size_t>(axis)];
    }
    EXPECT_GE(least_ms, 230);
    EXPECT_LT(least_ms, 240);
    EXPECT_LE(most_ms, 1'200);
    EXPECT_GT(most_ms, 1'190);
    for (const int model : models)
        EXPECT_GT(model, 500);
    EXPECT_EQ(drawn, 500);
    EXPECT_EQ(disturbed, 250);
    for (const int axis : axes)
        EXPECT_GT(axis, 15);
}

TEST(Soak, the_plain_hold_stands_beside_the_settings_and_is_scored_by_the_same_rules) {
    const host::SoakPlan plan{.settings = {}, .seed = 4, .state_file = {}};
    host::SoakTally tally;
    host::Figures plain;
    for (std::int64_t ride = 0; ride < 400; ++ride) {
        const host::SoakRun run = host::run_soak_ride(plan, ride);
        tally.add(ride, run);
        host::score(run.ride.truth, host::decode(run.ride.trace, host::plain_hold(840'000)), plain);
    }
    host::SoakErrors errors;
    std::size_t releases = 0;
    for (const host::PopulationTally& population : tally.populations) {
        errors.dropouts += population.plain.dropouts;
        errors.false_shows += population.plain.false_shows;
        errors.missed += population.plain.missed;
        releases += static_cast<std::size_t>(population.plain_latencies[1].worst.count);
    }
    EXPECT_GT(plain.dropouts, 0);
    EXPECT_EQ(errors.dropouts, plain.dropouts);
    EXPECT_EQ(errors.false_shows, plain.false_shows);
    EXPECT_EQ(errors.missed, plain.missed);
    EXPECT_EQ(releases, plain.release_us.size());
}

TEST(Soak, more_than_the_plain_hold_and_5_in_100_requests_for_each_kind_of_imperfection_is_a_miss) {
    host::SoakTally tally;
    host::AxisTally& hum = tally.axes[static_cast<std::size_t>(host::SoakAxis::hum)];
    hum = {.rides = 10, .requests = 1'000, .kinds = 2'000, .errors = {110, 15, 0}, .plain = {10, 5, 0}};
    EXPECT_TRUE(tally.misses().empty());
    ++hum.errors.dropouts;
    ++hum.errors.false_shows;
    const auto misses = tally.misses();
    ASSERT_EQ(misses.size(), 2u);
    EXPECT_EQ(misses[0].where, "hum");
    EXPECT_EQ(misses[0].what, "dropouts");
    EXPECT_DOUBLE_EQ(misses[0].limit, 0.11);
    EXPECT_EQ(misses[1].what, "false shows");
    host::PopulationTally& as_set = tally.populations[0];
    as_set.requests = 1'000;
    as_set.plain.dropouts = 1;
    as_set.findings[0][0].count = 1;
    EXPECT_EQ(tally.misses().size(), 2u);
    ++as_set.findings[0][0].count; // faultless lines: nothing is allowed on top
    EXPECT_EQ(tally.misses().size(), 3u);
    EXPECT_EQ(tally.misses()[0].where, "as-set");
}

TEST(Soak, a_plain_hold_below_the_dark_gap_is_asked_too_much) {
    const Scratch scratch;
    const Json soak =
        Json::parse(scratch.run("prove soak --flashes 1e5 --hold 300ms --handover off --json").out);
    const Json& as_set = soak["populations"][0];
    std::int64_t beyond_hold = 0;
    for (const Json& finding : as_set["findings"])
        if (finding["cause"] == "gap-beyond-hold") beyond_hold += finding["count"].get<std::int64_t>();
    EXPECT_GT(beyond_hold, as_set["dropouts"].get<std::int64_t>() / 2);
}

TEST(Soak, one_ride_can_be_looked_into) {
    const Scratch scratch;
    const Ran ran = scratch.run("prove soak --seed 5 --ride 1000003 --out " + scratch.path("ride.csv"));
    EXPECT_EQ(ran.exit_code, 0);
    EXPECT_EQ(ran.out.rfind("Ride 1000003, seed 5, drawn-settings", 0), 0u) << ran.out;
    EXPECT_EQ(scratch.run("decode " + scratch.path("ride.csv")).exit_code, 0);
}

} // namespace
} // namespace winkhold::testing
