#include "winkhold/bike/limits/check.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/joined.hpp"
#include "winkhold/base/vehicle/decoder_section.hpp"

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
    std::vector<std::string> notes;
};

Known known(const LimitBook& book, const LimitsQuestion& question) {
    const std::set<std::string> conditions = book.conditions();
    for (const std::string& condition : question.stated)
        if (!conditions.contains(condition))
            throw InputError(fmt::format("--if {}: no limit asks for that; known: {}", condition,
                                         joined(conditions, ", ")));
    Known vehicle;
    std::string place = question.place, kind = question.kind;
    if (question.vehicle) {
        vehicle.plan = lamp_plan_of(*question.vehicle);
        vehicle.decoder = decoder_settings(*question.vehicle, core::Settings{});
        if (place.empty()) place = question.vehicle->place();
        if (kind.empty()) kind = question.vehicle->kind();
    }
    if (place.empty() || kind.empty())
        vehicle.notes.push_back(fmt::format("Nothing says {}; {} is taken. --place and --kind tell, or "
                                            "[vehicle] place and kind.",
                                            !place.empty()  ? "what kind of vehicle it is"
                                            : !kind.empty() ? "where it is ridden"
                                                            : "where it is ridden, and what it is",
                                            !place.empty()  ? usual_kind
                                            : !kind.empty() ? usual_place
                                                            : "un-ece, motorcycle"));
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

Judgement judged(const Known& vehicle, const LimitsQuestion& question, std::span<const Observed> observed) {
    Judgement judgement = judge(vehicle.profile, question.stated, observed, vehicle.plan.lamps);
    judgement.notes.insert(judgement.notes.end(), vehicle.notes.begin(), vehicle.notes.end());
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

Judgement judge_scenario(const LimitBook& book, const LimitsQuestion& question, const Scenario& scenario,
                         std::uint64_t seed, std::int64_t trials) {
    const Known vehicle = known(book, question);
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
        seen.asked = asked_in(ride.truth);
    }
    return judged(vehicle, question, observed);
}

} // namespace winkhold::bike
