#include "winkhold/bike/limits/check.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/joined.hpp"
#include "winkhold/base/vehicle/decoder_section.hpp"
#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/bike/limits/detail/rests_on.hpp"

#include <fmt/format.h>

namespace winkhold::bike {
namespace {

constexpr std::string_view usual_place = "un-ece";
constexpr std::string_view usual_kind = "motorcycle";

/// The question with what the vehicle says.
struct Known {
    Profile profile;
    LampPlan plan;
    core::Settings decoder;
    Basis basis;
    std::vector<std::string> assumed;
    BrakeTap brake_tap{.late_us = {0}, .why_not_known = "name the vehicle's file (--vehicle)"};
};

/// Why place or kind is not known: nobody said `option`, and the vehicle's owner didn't enter the field.
std::string why_not_said(const std::optional<Vehicle>& vehicle, const std::string& option,
                         const std::string& key) {
    if (!option.empty()) return {};
    const std::string field = "vehicle." + key;
    const std::string why =
        vehicle ? why_not_known(*vehicle, std::span(&field, 1)) : "enter " + field_text(field);
    return why.empty() ? why : fmt::format("{}, or say --{}", why, key);
}

Known known(const LimitBook& book, const LimitsQuestion& question) {
    const std::set<std::string> conditions = book.conditions();
    for (const std::string& condition : question.stated)
        if (!conditions.contains(condition))
            throw InputError(fmt::format("--if {}: no limit asks for that; known: {}", condition,
                                         joined(conditions, ", ")));
    Known vehicle;
    std::string place = question.place, kind = question.kind;
    vehicle.basis.bike = question.vehicle;
    vehicle.basis.place_not_known = why_not_said(question.vehicle, place, "place");
    vehicle.basis.kind_not_known = why_not_said(question.vehicle, kind, "kind");
    if (!vehicle.basis.place_not_known.empty()) vehicle.assumed.emplace_back("place");
    if (!vehicle.basis.kind_not_known.empty()) vehicle.assumed.emplace_back("kind");
    if (question.vehicle) {
        vehicle.plan = lamp_plan_of(*question.vehicle);
        vehicle.brake_tap = brake_tap_of(*question.vehicle);
        vehicle.decoder = decoder_settings(*question.vehicle, core::Settings{});
        if (place.empty()) place = question.vehicle->place();
        if (kind.empty()) kind = question.vehicle->kind();
    }
    if (place.empty()) place = usual_place;
    if (kind.empty()) kind = usual_kind;
    try {
        vehicle.profile = book.profile(place, kind);
    } catch (const InputError& error) {
        const bool from_file = question.vehicle && (question.place.empty() || question.kind.empty());
        throw InputError(from_file ? at_line(question.vehicle->path(), 0, error.what()) : error.what());
    }
    return vehicle;
}

/// What lamps of the example show is nothing of this bike's: its lines are judged without them.
void leave_out_example_lamps(const Known& vehicle, std::span<Observed> observed) {
    if (!vehicle.basis.bike || !has_example_lamps(vehicle.plan.lamps, *vehicle.basis.bike)) return;
    for (Observed& ride : observed)
        std::erase_if(ride.signals, [](const Signal& signal) { return signal.of == SignalOf::lamps; });
}

Judgement judged(const Known& vehicle, const LimitsQuestion& question, std::span<Observed> observed) {
    leave_out_example_lamps(vehicle, observed);
    Judgement judgement =
        judge(vehicle.profile, question.stated, observed, vehicle.plan.lamps, vehicle.basis);
    judgement.assumed = vehicle.assumed;
    judgement.warnings = vehicle.plan.warnings;
    for (const std::optional<Vehicle>& from : {vehicle.basis.bike, vehicle.basis.ride})
        if (from && judgement.still_example.sections.empty()) judgement.still_example = still_example(*from);
    return judgement;
}

} // namespace

Judgement judge_recording(const LimitBook& book, const LimitsQuestion& question, EdgeSource& source,
                          const std::optional<Timeline>& switched) {
    const Known vehicle = known(book, question);
    Observer observer(vehicle.plan, vehicle.decoder);
    Edge edge;
    while (source.next(edge))
        observer.feed(edge);
    Observed observed = observer.finish(source.end_us());
    observed.brake_tap = vehicle.brake_tap;
    if (switched) observed.asked = asked_in(*switched, observed.end_us);
    bool incomplete = false;
    for (const Caveat& caveat : source.caveats()) {
        observed.notes.push_back(fmt::format("{}: {}", caveat.name, caveat.text));
        incomplete |= caveat.is_incomplete;
    }
    Judgement judgement = judged(vehicle, question, std::span(&observed, 1));
    judgement.incomplete = incomplete;
    return judgement;
}

Judgement judge_scenario(const LimitBook& book, const LimitsQuestion& question, const Vehicle& rides,
                         std::uint64_t seed, std::int64_t trials, const std::optional<RiderModel>& rider) {
    Scenario scenario = rider ? scenario_or_demo_ride(rides) : scenario_of(rides);
    if (rider) scenario.rider = *rider;
    Known vehicle = known(book, question);
    vehicle.basis.ride = rides;
    vehicle.basis.runs_free = scenario.flasher.side_change == SideChange::free_running;
    RideMaker maker(scenario);
    std::vector<Observed> observed;
    for (std::int64_t trial = 0; trial < trials; ++trial) {
        const Ride& ride = maker.make(seed, static_cast<std::uint64_t>(trial));
        Observer observer(vehicle.plan, vehicle.decoder);
        const Trace trace = with_brake(ride.trace);
        for (const Edge& edge : trace.edges)
            observer.feed(edge);
        Observed& seen = observed.emplace_back(observer.finish(trace.end_us));
        seen.trial = trial;
        seen.brake_tap = vehicle.brake_tap;
        seen.asked = asked_in(ride.truth);
    }
    return judged(vehicle, question, observed);
}

} // namespace winkhold::bike
