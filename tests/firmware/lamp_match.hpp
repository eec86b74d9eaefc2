/// What the lamps of the bench showed against what the host plays on the same ride.
#pragma once

#include "firmware/bench.hpp"

#include "winkhold/bike/lamps/lamp_frames.hpp"
#include "winkhold/bike/lamps/lamp_plan.hpp"

#include <algorithm>
#include <gtest/gtest.h>

namespace winkhold::testing {

/// From the start until the first round of looks and a settle are over, and lamps are as they should be.
/// Unit: us.
constexpr double awake_us = 30'000;

/// How much later than the host's a lamp's changes came. Unit: us.
struct Lag {
    double least{0};
    double most{0};

    void add(double lag_us) {
        least = std::min(least, lag_us);
        most = std::max(most, lag_us);
    }
};

/// A host's trace, so much later.
inline Ride ride_of(const host::Trace& trace, long long later_us) {
    Ride ride;
    for (const host::Edge& edge : trace.edges)
        ride.push_back({edge.t_us + later_us, edge.lines.bits()});
    return ride;
}

/// The same the other way round: what the bench's board has looked at, from the moment that it runs.
inline host::Trace trace_of(const Ride& ride, double end_us) {
    host::Trace trace;
    for (const TapChange& change : ride)
        trace.edges.push_back({change.t_us, core::Lines(static_cast<std::uint8_t>(change.lines))});
    trace.end_us = static_cast<host::TimeUs>(end_us);
    return trace;
}

/// What the host plays on it with the demo's lamps.
inline host::LampFrames frames_of(const host::Trace& trace) {
    static const host::LampPlan plan = host::lamp_plan_of(host::Vehicle::demo());
    return host::lamp_frames(trace, core::Settings{}, plan);
}

/// The last moment before `end_us` with no change near: what came before it the board has shown, what comes
/// after it it has not.
inline double quiet_before(const host::LampFrames& frames, double end_us) {
    constexpr double near_us = 2'500;
    double quiet_us = end_us - near_us;
    for (auto frame = frames.frames.rbegin(); frame != frames.frames.rend(); ++frame)
        if (std::abs(static_cast<double>(frame->t_us) - quiet_us) < near_us)
            quiet_us = static_cast<double>(frame->t_us) - near_us;
    return quiet_us;
}

/// From when to when lamps are compared. Unit: us.
struct Window {
    double from_us;
    double until_us;
};

/// What stands in it, one entry for each level.
inline std::vector<Shown> within(const std::vector<Shown>& all, Window window) {
    std::vector<Shown> some;
    for (const Shown& each : all) {
        if (each.t_us > window.until_us) break;
        if (each.t_us <= window.from_us) some.clear();
        if (some.empty() || some.back().level != each.level) some.push_back(each);
    }
    if (!some.empty()) some.front().t_us = std::max(some.front().t_us, window.from_us);
    return some;
}

inline std::vector<Shown> played(const host::LampFrames& frames, std::size_t group, std::uint16_t lamp) {
    std::vector<Shown> all;
    for (const host::LampFrame& frame : frames.frames)
        all.push_back({static_cast<double>(frame.t_us), frame.groups[group].brightness(lamp)});
    return all;
}

inline std::string as_text(const std::vector<Shown>& shown) {
    std::string text;
    for (const Shown& each : shown)
        text += fmt::format(" {:.0f}={}", each.t_us, each.level);
    return text;
}

/// simavr's edges come up to 4 cycles late, half of what a level is; dark and fully lit have no edges.
inline bool alike(const Shown& a, const Shown& b) {
    const auto dimmed = [](const Shown& each) { return each.level != 0 && each.level != 255; };
    return a.level == b.level || (dimmed(a) && dimmed(b) && std::abs(a.level - b.level) <= 1);
}

/// The same levels in the same order; the lag takes in how much later each came.
inline void expect_same(const std::vector<Shown>& expected, const std::vector<Shown>& shown,
                        const std::string& what, Lag& lag) {
    if (!std::ranges::equal(expected, shown, alike)) {
        ADD_FAILURE() << what << "\nhost: " << as_text(expected) << "\nboard:" << as_text(shown);
        return;
    }
    for (std::size_t i = 1; i < shown.size(); ++i)
        lag.add(shown[i].t_us - expected[i].t_us);
}

/// Where bike.hpp has the demo's groups: four on registers of 8 outputs, three on pins.
inline void expect_as_played(Bench& bench, const host::LampFrames& frames, Window window,
                             const std::string& what, Lag& lag) {
    for (unsigned output = 0; output < demo::outputs; ++output) {
        const std::vector<Shown> shown = within(bench.output(output), window);
        if (output % 8 < 6)
            expect_same(within(played(frames, output / 8, output % 8), window), shown,
                        fmt::format("{}: SR{}.{}", what, output / 8 + 1, output % 8 + 1), lag);
        else
            expect_same({{0, 0}}, shown, what + ": an output without a lamp", lag);
    }
    for (std::size_t i = 0; i < demo::lamp_pins.size(); ++i)
        expect_same(within(played(frames, 4 + i, 0), window), within(bench.pin(demo::lamp_pins[i]), window),
                    fmt::format("{}: pin {}", what, demo::lamp_pins[i]), lag);
}

/// Since its last start the board has shown what the host plays on what the board has seen.
inline Lag expect_as_seen(Bench& bench, const std::string& what) {
    Lag lag;
    const host::LampFrames frames = frames_of(trace_of(bench.seen(), bench.now_us()));
    expect_as_played(bench, frames,
                     {bench.running_since_us() + awake_us, quiet_before(frames, bench.now_us())}, what, lag);
    return lag;
}

} // namespace winkhold::testing
