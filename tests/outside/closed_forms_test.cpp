// The closed forms of a plain fixed hold (derived from the definitions of release and overlap, and agreed
// with an independent simulation): settle 0, no bounce, cancel at a uniformly random phase. T period, D duty,
// Ton = D T, Toff = (1 - D) T, H hold, w switch transit, w' = w + start delay.
#include "winkhold/base/statistics/summary.hpp"
#include "winkhold/measure/sweep/sweep.hpp"
#include "winkhold/measure/waveform/ride.hpp"

#include <gtest/gtest.h>

namespace {

using namespace winkhold;
using host::TimeUs;

constexpr double T = 706;
constexpr double D = 0.5;
constexpr double Ton = D * T;
constexpr double Toff = (1 - D) * T;
constexpr double w = 75;

host::Scenario scenario(host::SideChange model) {
    host::Scenario s;
    s.flasher.rate_per_min = {60e3 / T, 60e3 / T};
    s.flasher.duty_percent = {100 * D, 100 * D};
    s.flasher.jitter_percent = 0;
    s.flasher.side_change = model;
    s.contacts.bounce_us = 0;
    s.rider.transit_us = model == host::SideChange::restart ? 70'000 : 75'000;
    s.flasher.start_delay_us = model == host::SideChange::restart ? 5'000 : 0;
    using core::Indication;
    s.rider.script = {{Indication::off, false, {}, {500e3, 500e3}},
                      {Indication::left, true, {4, 7}, {}},
                      {Indication::right, true, {4, 7}, {}},
                      {Indication::off, false, {}, {3e6, 3e6}}};
    return s;
}

std::vector<host::CurvePoint> curve(host::SideChange model, const std::vector<TimeUs>& holds_us) {
    host::SweepPlan plan;
    plan.settings.rule = core::HoldRule::fixed;
    plan.settings.settle_us = 0;
    plan.settings.handover_us = 0;
    plan.settings.cut_short = false;
    plan.trials = 100'000;
    plan.threads = 2;
    const host::Responses responses = host::run_trials(scenario(model), plan, {});
    return host::curve_points(responses, plan.settings, holds_us);
}

const std::vector<TimeUs> holds_us{353'000, 450'000, 600'000, 840'000};

/// Within 1 % or 1 ms.
void expect_close(double measured_us, double expected_ms, const char* what, TimeUs hold_us) {
    EXPECT_NEAR(measured_us / 1e3, expected_ms, std::max(1.0, expected_ms / 100))
        << what << " at " << hold_us;
}

TEST(ClosedForms, Restart) {
    for (const host::CurvePoint& p : curve(host::SideChange::restart, holds_us)) {
        const double H = static_cast<double>(p.hold_us) / 1e3;
        const double h = H - w;
        const double overlap = h >= Toff ? h - (1 - D) * Toff / 2 : D * h + (1 - D) * h * h / (2 * Toff);
        expect_close(p.overlap.mean_us, overlap, "overlap mean", p.hold_us);
        expect_close(static_cast<double>(p.overlap.max_us), h, "overlap max", p.hold_us);
        expect_close(p.release.mean_us, H - (1 - D) * (1 - D) * T / 2, "release mean", p.hold_us);
        expect_close(static_cast<double>(p.release.max_us), H, "release max", p.hold_us);
        EXPECT_EQ(p.dropouts, 0);
    }
}

TEST(ClosedForms, RestartCheckRowsAsPublishedBesideTheFormulas) {
    struct Row {
        double overlap_mean, overlap_max, release_mean, release_max;
    };
    const Row rows[] = {
        {194, 278, 265, 353}, {287, 375, 362, 450}, {437, 525, 512, 600}, {677, 765, 752, 840}};
    const auto points = curve(host::SideChange::restart, holds_us);
    for (std::size_t i = 0; i < points.size(); ++i) {
        expect_close(points[i].overlap.mean_us, rows[i].overlap_mean, "overlap mean", points[i].hold_us);
        expect_close(static_cast<double>(points[i].overlap.max_us), rows[i].overlap_max, "overlap max",
                     points[i].hold_us);
        expect_close(points[i].release.mean_us, rows[i].release_mean, "release mean", points[i].hold_us);
        expect_close(static_cast<double>(points[i].release.max_us), rows[i].release_max, "release max",
                     points[i].hold_us);
    }
}

TEST(ClosedForms, FreeRunning) {
    for (const host::CurvePoint& p : curve(host::SideChange::free_running, holds_us)) {
        const double H = static_cast<double>(p.hold_us) / 1e3;
        // m: mean of (H - G)+ for G uniform on [Toff, Toff + w]
        const double high = std::max(0.0, H - Toff);
        const double low = std::max(0.0, H - Toff - w);
        const double m = (high * high - low * low) / (2 * w);
        const double overlap =
            (D - w / T) * (H - w) + (1 - D - w / T) * std::max(0.0, H - Toff) + 2 * w / T * m;
        expect_close(p.overlap.mean_us, overlap, "overlap mean", p.hold_us);
        expect_close(p.release.mean_us, H - (1 - D) * (1 - D) * T / 2, "release mean", p.hold_us);
    }
}

TEST(ClosedForms, WholeCycle) {
    for (const host::CurvePoint& p : curve(host::SideChange::whole_cycle, holds_us)) {
        const double H = static_cast<double>(p.hold_us) / 1e3;
        EXPECT_LE(static_cast<double>(p.overlap.max_us) / 1e3, H - Toff + 0.001);
        if (H >= Toff + w) {
            expect_close(p.overlap.mean_us, H - Toff - w * w / (2 * T), "overlap mean", p.hold_us);
            expect_close(static_cast<double>(p.overlap.max_us), H - Toff, "overlap max", p.hold_us);
        }
        expect_close(p.release.mean_us, H + T * (2 * D - 1) / 2, "release mean", p.hold_us);
        expect_close(static_cast<double>(p.release.max_us), H + Ton, "release max", p.hold_us);
    }
}

TEST(ClosedForms, NoDropoutIffTheHoldCoversTheDarkTime) {
    const auto points = curve(host::SideChange::restart, {300'000, 352'000, 353'000});
    EXPECT_GT(points[0].dropouts, 0);
    EXPECT_GT(points[1].dropouts, 0);
    EXPECT_EQ(points[2].dropouts, 0);
}

TEST(ClosedForms, ATooShortHoldIsDarkForTheRestOfEachCycle) {
    host::RideMaker maker(scenario(host::SideChange::restart));
    const host::Ride& ride = maker.make(1, 0);
    core::Settings settings;
    settings.rule = core::HoldRule::fixed;
    settings.settle_us = 0;
    settings.handover_us = 0;
    settings.cut_short = false;
    settings.hold_us = 300'000;
    const host::Timeline timeline = host::decode(ride.trace, settings);
    int cycles = 0;
    for (std::size_t i = 0; i + 2 < timeline.size(); ++i) {
        if (timeline[i].indication != core::Indication::left ||
            timeline[i + 2].indication != core::Indication::left)
            continue;
        EXPECT_EQ(timeline[i + 1].indication, core::Indication::off);
        EXPECT_NEAR(static_cast<double>(timeline[i + 2].t_us - timeline[i + 1].t_us), 53'000, 2);
        ++cycles;
    }
    EXPECT_GE(cycles, 3);
}

} // namespace
