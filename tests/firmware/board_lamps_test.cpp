// Every lamp of the board, as its pins and registers show it, against what the host plays on the same ride.
//
// Two things are asked. On what the board saw, looking at each tap every 640 us, its answers are the host's:
// the same levels in the same order, none more or less. On what the lines really did, they come within one
// sample (the demo's front end says 1 ms) and one period of PWM.
#include "firmware/firmware_build.hpp"
#include "firmware/lamp_match.hpp"
#include "program/run.hpp"

#include "winkhold/measure/faults/fault.hpp"
#include "winkhold/measure/waveform/ride.hpp"

#include <nlohmann/json.hpp>

namespace winkhold::testing {
namespace {

constexpr double sample_us = 1000;
constexpr double pwm_period_us = 128;
/// Rides begin when the board is awake.
constexpr long long begin_us = 40'000;

/// The demo's ride with other settings is another bike: all lines dark first, then the scenario.
host::Trace ride_on(const host::Scenario& scenario, std::uint64_t trial) {
    host::Trace trace = host::RideMaker(scenario).make(1, trial).trace;
    for (host::Edge& edge : trace.edges)
        edge.t_us += begin_us;
    trace.edges.insert(trace.edges.begin(), {0, core::Lines{}});
    trace.end_us += begin_us;
    return trace;
}

/// Plays so much of a trace.
void play(Bench& bench, const host::Trace& trace, double longest_us) {
    bench.play(ride_of(trace, 0));
    bench.run_until_us(std::min(longest_us, static_cast<double>(trace.end_us)));
    EXPECT_EQ(bench.chip().resets(), 0) << "the watchdog had to step in";
    EXPECT_EQ(bench.chip().misuse(), "");
}

TEST(BoardLamps, PlayARideAsTheProgramDoes) {
    const Scratch scratch;
    const double end_us = 5'000'000;
    std::string rows = "time_us,left,right,brake,tail,supply\n0,0,0,0,0,0\n";
    Ride ride;
    const auto change = [&](long long t_us, unsigned lines) {
        ride.push_back({t_us, lines});
        rows += fmt::format("{},{},{},{},{},{}\n", t_us, lines & 1, lines >> 1 & 1, lines >> 2 & 1,
                            lines >> 3 & 1, lines >> 4 & 1);
    };
    change(begin_us, 0x18);
    change(300'123, 0x19); // left, the brake meanwhile
    change(500'077, 0x1d);
    change(653'381, 0x1c);
    change(1'006'777, 0x1d);
    change(1'100'001, 0x19);
    change(1'359'909, 0x18);
    change(1'712'345, 0x19);
    change(2'065'432, 0x18);
    change(2'500'500, 0x1a); // right at once, tail off
    change(2'853'555, 0x10);
    change(3'206'650, 0x12);
    change(3'559'999, 0x10);
    const std::string recording = scratch.write("ride.csv", rows + fmt::format("{},0,0,0,0,1\n", end_us));
    const Ran ran = scratch.run("sequence --json --vehicle data/vehicles/demo.toml " + recording);
    ASSERT_EQ(ran.exit_code, 0) << ran.err;
    host::LampFrames frames;
    const nlohmann::json printed = nlohmann::json::parse(ran.out);
    for (const nlohmann::json& frame : printed["frames"]) {
        host::LampFrame& read = frames.frames.emplace_back();
        read.t_us = frame["t_us"];
        for (const nlohmann::json& group : frame["brightness"]) {
            const auto of = [&](std::size_t lamp) { return group[lamp].get<std::uint8_t>(); };
            const auto lit =
                std::ranges::find_if(group, [&](const nlohmann::json& lamp) { return lamp != of(0); });
            read.groups.push_back(
                {static_cast<std::uint16_t>(lit - group.begin()), of(0), of(group.size() - 1)});
        }
    }
    Bench bench(board_elf());
    bench.play(ride);
    bench.run_until_us(end_us);
    Lag lag;
    expect_as_played(bench, frames, {awake_us, end_us}, "ride", lag);
    EXPECT_GE(lag.least, -sample_us);
    EXPECT_LE(lag.most, sample_us + pwm_period_us);
    std::printf("lamps change %.0f us before to %.0f us after the program's frames\n", -lag.least, lag.most);
}

// Clean lines, so that the board sees all that they do.
TEST(BoardLamps, FollowTheLinesWithinASampleAndAPeriodOfPwm) {
    for (const char* name : {"nominal", "unknown"}) {
        host::Scenario scenario =
            host::scenario_of(host::Vehicle::read(fmt::format("{}/scenarios/{}.toml", WINKHOLD_DATA, name)));
        scenario.contacts.bounce_us = 0;
        for (std::uint64_t trial = 0; trial < 2; ++trial) {
            Bench bench(board_elf());
            const host::Trace trace = ride_on(scenario, trial);
            play(bench, trace, 5e6);
            Lag lag;
            const host::LampFrames frames = frames_of(trace);
            expect_as_played(bench, frames, {awake_us, quiet_before(frames, bench.now_us())}, name, lag);
            EXPECT_GE(lag.least, -sample_us);
            EXPECT_LE(lag.most, sample_us + pwm_period_us) << name << ", trial " << trial;
        }
    }
}

class BoardFaults : public ::testing::TestWithParam<std::string> {};

// Those that pins can carry: lines high or low. tests/faults has the catalogue's own limits.
TEST_P(BoardFaults, LeadToTheHostsLamps) {
    const bool is_long = std::getenv("WINKHOLD_LONG") != nullptr;
    for (const host::FaultCase& fault : host::read_faults(WINKHOLD_DATA "/faults", {GetParam()})) {
        for (const host::FaultVariant& variant : fault.variants) {
            if (!is_long && &variant != &fault.variants.front()) continue;
            Bench bench(board_elf());
            play(bench, ride_on(variant.scenario, 0), is_long ? 60e6 : 4e6);
            const std::string what = fault.id + " " + variant.name;
            const Lag lag = expect_as_seen(bench, what);
            EXPECT_LE(lag.most, 1'500) << what << ": two steps, where both sides fill anew at once";
        }
    }
}

std::vector<std::string> catalogue() {
    std::vector<std::string> ids;
    for (const host::FaultCase& fault : host::read_faults(WINKHOLD_DATA "/faults", {}))
        ids.push_back(fault.id);
    return ids;
}

INSTANTIATE_TEST_SUITE_P(OfTheCatalogue, BoardFaults, ::testing::ValuesIn(catalogue()),
                         [](const auto& fault) { return fault.param; });

} // namespace
} // namespace winkhold::testing
