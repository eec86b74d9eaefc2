#include "winkhold/host/rules/check.hpp"

#include "lamps/lamps_of.hpp"
#include "vehicle/vehicle_files.hpp"
#include "winkhold/host/error.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace winkhold::host {
namespace {

constexpr std::string_view usual_place = "un-ece";
constexpr std::string_view usual_kind = "motorcycle";

/// The question with its vehicle file read.
struct Vehicle {
    Profile profile;
    Lamps lamps;
    std::vector<std::string> notes;
};

Vehicle known(const RuleBook& book, const RulesQuestion& question) {
    const std::set<std::string> conditions = book.conditions();
    for (const std::string& condition : question.stated)
        if (!conditions.contains(condition))
            throw InputError(fmt::format("--if {}: no rule asks for that; known: {}", condition,
                                         fmt::join(conditions, ", ")));
    Vehicle vehicle;
    std::string place = question.place, kind = question.kind;
    if (!question.vehicle_file.empty()) {
        const VehicleFiles files = read_vehicle_files(question.vehicle_file);
        vehicle.lamps = lamps_of(files);
        if (place.empty()) place = files.place;
        if (kind.empty()) kind = files.kind;
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
    vehicle.profile = book.profile(place, kind);
    return vehicle;
}

Judgement judged(const Vehicle& vehicle, const RulesQuestion& question, std::span<const Observed> observed) {
    Judgement judgement = judge(vehicle.profile, question.stated, observed, vehicle.lamps);
    judgement.notes.insert(judgement.notes.end(), vehicle.notes.begin(), vehicle.notes.end());
    return judgement;
}

} // namespace

Judgement judge_recording(const RuleBook& book, const RulesQuestion& question, EdgeSource& source,
                          const std::optional<Timeline>& switched) {
    const Vehicle vehicle = known(book, question);
    Observed observed = observe(source);
    if (switched) observed.asked = asked_in(*switched, observed.end_us);
    for (const Caveat& caveat : source.caveats())
        observed.notes.push_back(fmt::format("{}: {}", caveat.name, caveat.text));
    return judged(vehicle, question, std::span(&observed, 1));
}

Judgement judge_scenario(const RuleBook& book, const RulesQuestion& question, const Scenario& scenario,
                         std::uint64_t seed, std::int64_t trials) {
    const Vehicle vehicle = known(book, question);
    RideMaker maker(scenario);
    std::vector<Observed> observed;
    for (std::int64_t trial = 0; trial < trials; ++trial)
        observed.push_back(observe(maker.make(seed, static_cast<std::uint64_t>(trial)), trial));
    return judged(vehicle, question, observed);
}

} // namespace winkhold::host
