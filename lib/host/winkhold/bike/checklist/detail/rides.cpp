// Limits and lamps of a vehicle, looked at on simulated rides.
#include "winkhold/bike/checklist/detail/rooms.hpp"

#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/bike/checklist/detail/concern.hpp"
#include "winkhold/bike/lamps/detail/fill_tally.hpp"
#include "winkhold/bike/limits/check.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

/// As `winkhold limits` has them.
constexpr std::uint64_t seed = 1;
constexpr std::int64_t trials = 20;

/// First one who asks for each side and for a hazard; the vehicle's own rider may not.
std::vector<Scenario> rides_of(const Vehicle& vehicle) {
    Scenario all = scenario_or_demo_ride(vehicle);
    if (!vehicle.has("rider")) return {all};
    const Scenario own = all;
    all.rider = scenario_of(Vehicle::demo()).rider;
    return {all, own};
}

std::string limit_text(const Finding& finding) {
    const std::string unit(name(finding.limit.unit));
    std::string text = finding.limit.what;
    if (finding.value) text += fmt::format(", {:.4g} {}", *finding.value, unit);
    return fmt::format("{}, {} ({}, {}, {})", text, bounds_text(finding.limit), finding.limit.publication,
                       finding.limit.clause, name(finding.limit.mark));
}

void take_limits(const Vehicle& vehicle, const std::vector<Scenario>& rides, Readiness& readiness) {
    const LimitBook book = LimitBook::carried_along();
    const LimitsQuestion question{.place = {}, .kind = {}, .stated = {}, .vehicle = vehicle};
    std::vector<Judgement> judgements;
    for (const Scenario& ride : rides)
        judgements.push_back(judge_scenario(book, question, vehicle, seed, trials, ride.rider));
    const Lamps lamps = lamps_of(vehicle);
    for (std::size_t i = 0; i < judgements.front().findings.size(); ++i) {
        // what a rider never asks for his rides don't show, and so only the first must show all
        const Finding* worst = &judgements.front().findings[i];
        if (concern_of(worst->limit, lamps) != Concern::judged) continue;
        for (const Judgement& judgement : judgements)
            if (worst->ruling != Ruling::broken && judgement.findings[i].ruling == Ruling::broken)
                worst = &judgement.findings[i];
        if (worst->ruling == Ruling::broken)
            readiness.against.push_back(
                {Judge::limits, fmt::format("Limits: {}, is broken.", limit_text(*worst))});
        else if (worst->ruling == Ruling::not_judged)
            readiness.missing.push_back(
                {Judge::limits, fmt::format("Limits, not judged: {}: {}.", worst->limit.what, worst->why)});
    }
}

void take_lamps(const Vehicle& vehicle, const std::vector<Scenario>& rides, Readiness& readiness) {
    const LampPlan plan = lamp_plan_of(vehicle);
    if (plan.lamps.empty()) {
        readiness.missing.push_back({Judge::sequence, "Lamps: none are listed; enter [[lamps]]."});
        return;
    }
    std::string why = why_no_rhythm(vehicle);
    if (why.empty()) why = why_not_known(vehicle, std::vector<std::string>{"lines"});
    if (!why.empty())
        readiness.missing.push_back(
            {Judge::sequence,
             fmt::format("Lamps: whether each flash lights all of them, not judged: {}.", why)});
    FillTally tally(plan);
    for (const Scenario& scenario : rides) {
        RideMaker maker(scenario);
        for (std::int64_t trial = 0; trial < trials; ++trial) {
            const Trace& trace = maker.make(seed, static_cast<std::uint64_t>(trial)).trace;
            LampPlayer player(scenario.decoder, plan);
            player.on_frame([&](const LampFrame& frame) { tally.frame(frame); });
            player.on_fill([&](const LampFill& fill) { tally.fill(fill); });
            for (const Edge& edge : trace.edges)
                player.feed(edge);
            player.finish(trace.end_us);
        }
    }
    for (std::size_t i = 0; i < plan.lamps.size(); ++i) {
        const GroupTally& group = tally.groups()[i];
        const auto is_wrong = [&](const std::string& why) {
            readiness.against.push_back({Judge::sequence, fmt::format("Lamps {}: {}; see winkhold sequence.",
                                                                      plan.lamps[i].name, why)});
        };
        if (group.short_of > 0)
            is_wrong(fmt::format("one stays dark in {} of {} flashes that nobody cancelled: a shorter step "
                                 "helps",
                                 group.short_of, group.flashes));
        else if (!group.was_full)
            is_wrong("whatever is asked for, they are never all lit");
    }
}

} // namespace

void take_rides(const Vehicle& vehicle, const std::optional<Profile>& profile, Readiness& readiness) {
    const std::vector<Scenario> rides = rides_of(vehicle);
    if (profile)
        take_limits(vehicle, rides, readiness);
    else
        readiness.missing.push_back(
            {Judge::limits, "Limits, not judged: enter [vehicle] place and kind; they say which ones hold."});
    take_lamps(vehicle, rides, readiness);
}

} // namespace winkhold::bike
