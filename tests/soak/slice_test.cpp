// A slice of the long run, and the rules that its figures rest on.
#include "program/run.hpp"
#include "winkhold/measure/score/figures.hpp"
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
    EXPECT_EQ(one.exit_code, soak["unexplained"] == 0 ? 0 : 1);
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
    for (std::uint64_t ride = 0; ride < 2'000; ++ride) {
        const host::SoakRide soak = host::draw_soak_ride(3, ride, {});
        ASSERT_EQ(core::check(soak.scenario.decoder), core::SettingsError::none) << ride;
        const double period_ms = 60e3 / soak.scenario.flasher.rate_per_min.least;
        least_ms = std::min(least_ms, period_ms);
        most_ms = std::max(most_ms, period_ms);
        ++models[static_cast<int>(soak.scenario.flasher.side_change)];
        drawn += soak.population == host::SoakPopulation::drawn_settings;
        disturbed += soak.population == host::SoakPopulation::disturbed;
        EXPECT_EQ(soak.population == host::SoakPopulation::disturbed,
                  !soak.scenario.taps.disturbances.empty());
    }
    EXPECT_GE(least_ms, 230);
    EXPECT_LT(least_ms, 240);
    EXPECT_LE(most_ms, 1'200);
    EXPECT_GT(most_ms, 1'190);
    for (const int model : models)
        EXPECT_GT(model, 500);
    EXPECT_EQ(drawn, 500);
    EXPECT_EQ(disturbed, 250);
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
