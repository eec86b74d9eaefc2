#include "winkhold/measure/sweep/sweep.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/measure/score/detail/bound.hpp"
#include "winkhold/measure/sweep/detail/rising_figures.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::measure {
namespace {

using core::HoldRule;

void check_grid(const SweepPlan& plan) {
    const bool paced = plan.settings.rule == HoldRule::paced;
    const TimeUs least_us =
        paced ? 0
              : std::max({core::built_in::least_hold_us, plan.settings.settle_us, plan.settings.pwm_gap_us});
    if (plan.grid.from_us < least_us)
        throw InputError(
            fmt::format("--hold {}: a hold below {} can't work (it must cover settle and PWM gap)",
                        format_duration(plan.grid.from_us), format_duration(least_us)));
    if (plan.grid.to_us > longest_value_us)
        throw InputError(fmt::format("--{} {}: the longest is 5 s", paced ? "guard" : "hold",
                                     format_duration(plan.grid.to_us)));
}

/// The same trials under plainer rules: what each rule buys. `at` is the chosen point, or the last.
std::vector<CurvePoint> beside(const Scenario& scenario, const SweepPlan& plan, const CurvePoint& at) {
    std::vector<CurvePoint> points;
    const auto add = [&](std::string label, const core::Settings& settings, TimeUs value_us) {
        SweepPlan other = plan;
        other.settings = settings;
        const Responses responses = run_trials(scenario, other, {});
        points.push_back(curve_points(responses, settings, {value_us}).front());
        points.back().label = std::move(label);
    };
    core::Settings plain = plan.settings;
    plain.rule = HoldRule::fixed;
    plain.handover_us = 0;
    plain.cut_short = false;
    const bool paced = plan.settings.rule == HoldRule::paced;
    if (paced || plan.settings.handover_us != 0 || plan.settings.cut_short)
        add("plain fixed hold", plain, at.hold_us);
    if (plan.settings.cut_short) {
        core::Settings uncut = plan.settings;
        uncut.cut_short = false;
        add("same rules, cut-short off", uncut, paced ? at.guard_us : at.hold_us);
    }
    return points;
}

CurvePoint bound_point(const Scenario& scenario, const SweepPlan& plan) {
    Scenario decoded = scenario;
    decoded.decoder = plan.settings;
    RideMaker maker(decoded);
    Figures figures;
    const std::int64_t trials = std::min<std::int64_t>(plan.trials, 100'000);
    for (std::int64_t trial = 0; trial < trials; ++trial)
        add_bound(decoded, maker.make(plan.seed, static_cast<std::uint64_t>(trial)), figures);
    CurvePoint point;
    point.label = "clairvoyant bound";
    point.overlap = summarise(figures.overlap_us);
    point.release = summarise(figures.release_us);
    point.acquire = summarise(figures.acquire_us);
    return point;
}

Sweep finish(const SweepPlan& plan, bool population, Responses& responses) {
    Sweep sweep{.plan = plan,
                .population = population,
                .flashes = responses.flashes,
                .bikes = responses.bikes,
                .curve = curve_points(responses, plan.settings, plan.grid.values()),
                .choice = {},
                .beside = {},
                .bound = {},
                .still_example = {}};
    sweep.choice = choose(sweep, responses);
    return sweep;
}

} // namespace

Sweep sweep_scenario(const Scenario& scenario, const SweepPlan& plan, const Progress& progress) {
    check_grid(plan);
    Responses responses = run_trials(scenario, plan, progress);
    Sweep sweep = finish(plan, scenario.is_population(), responses);
    sweep.bound = bound_point(scenario, plan);
    sweep.beside = beside(scenario, plan, sweep.curve[sweep.choice.point.value_or(sweep.curve.size() - 1)]);
    return sweep;
}

Sweep sweep_recording(EdgeSource& source, const SweepPlan& plan) {
    check_grid(plan);
    Phases phases;
    const TimeUs end_us = find_phases(source, plan.settings, phases);
    Responses responses;
    reduce(phases, infer_truth(phases, end_us), responses);
    responses.sort();
    return finish(plan, false, responses);
}

std::vector<CurvePoint> curve_points(const Responses& responses, const core::Settings& settings,
                                     const std::vector<TimeUs>& values_us) {
    std::vector<CurvePoint> points;
    RisingFigures overlap(responses.overlap);
    RisingFigures release(responses.release);
    RisingFigures acquire(responses.acquire);
    for (const TimeUs value_us : values_us) {
        const bool paced = settings.rule == HoldRule::paced;
        CurvePoint& point = points.emplace_back();
        point.rule = settings.rule;
        point.hold_us = paced ? settings.hold_us : value_us;
        point.guard_us = paced ? value_us : 0;
        point.dropouts = responses.dropouts.count(value_us);
        point.bikes_with_dropout = responses.bikes_with_dropout.count(value_us);
        point.false_shows = responses.false_shows.count(value_us);
        point.missed = responses.missed.count(value_us);
        point.overlap = overlap.at(value_us);
        point.release = release.at(value_us);
        point.acquire = acquire.at(value_us);
    }
    return points;
}

} // namespace winkhold::measure
