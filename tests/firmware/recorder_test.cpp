// The recorder's log against the pins that were driven.
#include "firmware/recorder.hpp"

#include <algorithm>
#include <cstdlib>
#include <nlohmann/json.hpp>

namespace winkhold::testing {
namespace {

constexpr long long tick_us = 4;
constexpr long long overflow_us = 65'536 * tick_us;

/// All edges are there, in order, and no stamp is more than a time step away from its place behind the first
/// one.
void expect_as_driven(const Log& log, const std::vector<PinChange>& changes) {
    const std::vector<LogLine> edges = log.of('e');
    ASSERT_EQ(edges.size(), changes.size());
    for (std::size_t i = 0; i < edges.size(); ++i) {
        EXPECT_EQ(edges[i].taps, changes[i].taps) << "edge " << i;
        const auto since_first = static_cast<long long>(edges[i].value - edges[0].value);
        EXPECT_LE(std::llabs(since_first * tick_us - (changes[i].t_us - changes[0].t_us)), tick_us)
            << "edge " << i;
    }
    EXPECT_TRUE(log.of('o').empty()) << "nothing is lost";
}

TEST(Recorder, TheLogIsTheInputWithinOneTimeStep) {
    const Scratch scratch;
    std::vector<PinChange> changes;
    for (long long flash = 0; flash < 4; ++flash) { // odd times, so that ticks are met at every phase
        const long long rise_us = 50'001 + flash * 706'003;
        changes.push_back({rise_us, 0x1});
        changes.push_back({rise_us + 12'346, 0x3});
        changes.push_back({rise_us + 100'001, 0x7});
        changes.push_back({rise_us + 200'002, 0xf});
        changes.push_back({rise_us + 353'001, 0xe});
        changes.push_back({rise_us + 360'003, 0xc});
        changes.push_back({rise_us + 500'002, 0x0});
    }
    const Log log = record(scratch, changes, 3'200'000);
    EXPECT_EQ(log.header, "# winkhold recorder 1 tick_us=4");
    expect_as_driven(log, changes);
}

TEST(Recorder, ItsLogIsDecodedLikeThePins) {
    const Scratch scratch;
    std::vector<PinChange> changes;
    for (long long flash = 0; flash < 6; ++flash) { // three to the left, then three to the right
        const unsigned side = flash < 3 ? 1 : 2;
        changes.push_back({100'000 + flash * 600'000, side});
        changes.push_back({102'000 + flash * 600'000, 0}); // bounce
        changes.push_back({103'000 + flash * 600'000, side});
        changes.push_back({400'000 + flash * 600'000, 0});
    }
    const Log log = record(scratch, changes, 5'500'000);
    const std::string recorded = scratch.write("ride.log", as_text(log));
    std::string rows = "time_us,left,right\n0,0,0\n";
    for (const PinChange& change : changes)
        rows += fmt::format("{},{},{}\n", change.t_us, change.taps & 1, change.taps >> 1 & 1);
    const std::string driven = scratch.write("pins.csv", rows + "5500000,0,0\n");
    const auto shown = [&](const std::string& recording) {
        return nlohmann::json::parse(scratch.run("decode --json " + recording).out)["transitions"];
    };
    const nlohmann::json from_log = shown(recorded);
    const nlohmann::json from_pins = shown(driven);
    ASSERT_EQ(from_log.size(), from_pins.size());
    ASSERT_EQ(from_log.size(), 4u) << "off, left, right, off";
    for (std::size_t i = 0; i < from_log.size(); ++i) {
        EXPECT_EQ(from_log[i]["indication"], from_pins[i]["indication"]);
        if (i < 2) continue;
        const auto since_first = [&](const nlohmann::json& seen) {
            return seen[i]["t_us"].get<long long>() - seen[1]["t_us"].get<long long>();
        };
        EXPECT_LE(std::llabs(since_first(from_log) - since_first(from_pins)), 64 + 2 * tick_us)
            << "learned times count 64 us";
    }
}

TEST(Recorder, AHeartbeatTellsTheLevelsAtTheStartAndEachSecond) {
    const Scratch scratch;
    const Log log = record(scratch, {{1'500'000, 0x5}, {2'500'000, 0x4}}, 3'100'000);
    const std::vector<LogLine> beats = log.of('h');
    ASSERT_EQ(beats.size(), 4u);
    const unsigned taps[] = {0x0, 0x0, 0x5, 0x4};
    for (std::size_t i = 0; i < beats.size(); ++i) {
        EXPECT_EQ(beats[i].taps, taps[i]);
        if (i == 0) continue;
        EXPECT_NEAR(static_cast<double>(beats[i].value - beats[i - 1].value), 250'000, 25);
    }
    for (std::size_t i = 1; i < log.lines.size(); ++i)
        EXPECT_GE(log.lines[i].value, log.lines[i - 1].value) << "lines come in order of time";
}

// The classic error: the counter has run over, its interrupt still waits, and a stamp is 65,536 ticks early;
// or the overflow is counted for a stamp that was read just before it, which is then as much late.
TEST(Recorder, AnEdgeRightAtTheTimersOverflowIsStampedRight) {
    const Scratch scratch;
    const long long probe_us = 20'000;
    const Log probe = record(scratch, {{probe_us, 1}}, probe_us + 5'000);
    ASSERT_EQ(probe.of('e').size(), 1u);
    const long long start_us = probe_us - static_cast<long long>(probe.of('e')[0].value) * tick_us;
    std::vector<PinChange> changes{{probe_us, 1}};
    for (long long turn = 1; turn <= 17; ++turn) // an overflow each, met at every microsecond from -8 to 8
        changes.push_back({start_us + turn * overflow_us + turn - 9, turn % 2 == 0 ? 1u : 0u});
    expect_as_driven(record(scratch, changes, 18 * overflow_us), changes);
}

TEST(Recorder, ChangesFromEightMicrosecondsApartAreAllThere) {
    const Scratch scratch;
    std::vector<PinChange> changes;
    for (int burst = 0; burst < 3; ++burst) { // nine changes each, 8 to 15 us apart
        long long t_us = 100'000LL * (burst + 1);
        for (int i = 0; i < 9; ++i, t_us += 7 + i)
            changes.push_back({t_us, (i + burst) % 2 == 0 ? 2u : 0u});
    }
    expect_as_driven(record(scratch, changes, 500'000), changes);
}

TEST(Recorder, EdgesLostInABurstAreCountedWhereTheyAreMissing) {
    const Scratch scratch;
    std::vector<PinChange> changes;
    for (int i = 0; i < 1'000; ++i) // 20 kHz, thirty times what the UART can take
        changes.push_back({100'000 + 50 * i, i % 2 == 0 ? 1u : 0u});
    changes.push_back({140'000 + 50 * 1'000, 8});
    changes.push_back({900'000, 0});
    const Log log = record(scratch, changes, 1'200'000);
    const std::vector<LogLine> edges = log.of('e');
    unsigned long long lost = 0;
    std::size_t next = 0;
    for (const LogLine& line : log.lines) {
        if (line.kind == 'o') {
            lost += line.value;
            next += line.value;
        }
        if (line.kind != 'e') continue;
        ASSERT_LT(next, changes.size());
        EXPECT_EQ(line.taps, changes[next].taps);
        const auto since_first = static_cast<long long>(line.value - edges[0].value);
        EXPECT_LE(std::llabs(since_first * tick_us - (changes[next].t_us - changes[0].t_us)), tick_us)
            << next;
        ++next;
    }
    EXPECT_EQ(edges.size() + lost, changes.size());
    EXPECT_EQ(next, changes.size());
    EXPECT_GT(lost, 600u);
    EXPECT_LT(lost, 760u) << "the ring holds 254";
}

TEST(Recorder, ALossThatNoEdgeFollowsIsReportedToo) {
    const Scratch scratch;
    std::vector<PinChange> changes;
    for (int i = 0; i < 400; ++i)
        changes.push_back({100'000 + 50 * i, i % 2 == 0 ? 1u : 0u});
    const Log log = record(scratch, changes, 1'200'000);
    ASSERT_FALSE(log.of('o').empty());
    unsigned long long lost = 0;
    for (const LogLine& line : log.of('o'))
        lost += line.value;
    EXPECT_EQ(log.of('e').size() + lost, 400u);
    EXPECT_EQ(log.lines.back().kind, 'h') << "and the heartbeat comes back";
}

TEST(Recorder, FitsTheChipWithRoomForTheStack) {
    const Scratch scratch;
    record(scratch, {}, 1'000);
    int flash = 0;
    int ram = 0;
    ASSERT_EQ(
        std::sscanf(scratch.read("size").c_str(), "flash %d of 32768 bytes; RAM %d of 2048", &flash, &ram),
        2);
    std::puts(scratch.read("size").c_str());
    EXPECT_LE(flash, 1'400);
    EXPECT_LE(ram, 1'400);
}

} // namespace
} // namespace winkhold::testing
