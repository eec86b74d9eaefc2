#include "winkhold/bike/lamps/lamp_plan.hpp"

#include "winkhold/base/nearest.hpp"
#include "winkhold/base/vehicle/detail/vehicle_files.hpp"
#include "winkhold/bike/lamps/contradictions.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

void read_sequence(TomlFields& fields, core::SequenceSettings& timing) {
    const int clock = fields.choice("clock", {"following", "own-rate"});
    if (clock >= 0) timing.source = static_cast<core::FlashSource>(clock);
    const bool own = timing.source == core::FlashSource::own_rate;
    double rate_per_min = 0;
    double duty_percent = 50;
    fields.number("rate_per_min", 10, 600, rate_per_min);
    fields.number("duty_percent", 1, 99, duty_percent);
    for (const char* name : {"rate_per_min", "duty_percent"})
        if (!own && fields.has(name))
            fields.refuse(name, *fields.node(name),
                          "only with clock = \"own-rate\"; else the line says when");
    if (fields.has("duty_percent") && !fields.has("rate_per_min"))
        fields.refuse("duty_percent", *fields.node("duty_percent"), "needs rate_per_min beside it");
    if (rate_per_min > 0) {
        const double period_us = 60e6 / rate_per_min;
        timing.on_us = static_cast<core::Span>(std::lround(period_us * duty_percent / 100));
        timing.dark_us = static_cast<core::Span>(std::lround(period_us)) - timing.on_us;
    }
    TimeUs prior_us = timing.on_prior_us;
    fields.duration("on_prior", core::built_in::longest_on_us, prior_us);
    if (own && fields.has("on_prior"))
        fields.refuse("on_prior", *fields.node("on_prior"), "only with clock = \"following\"");
    timing.on_prior_us = static_cast<core::Span>(prior_us);
}

void check_plan(const LampPlan& plan) {
    const std::vector<core::LampGroup> groups = plan.groups();
    const auto refuse = [&](const char* why) { throw InputError(at_line(plan.origin, 0, why)); };
    switch (core::check(plan.timing, groups.data(), static_cast<std::uint8_t>(groups.size()))) {
    case core::SequenceError::no_rate:
        return refuse("[sequence] clock: an own rate needs rate_per_min, or turn lamps with stay and blank, "
                      "which then pace themselves");
    case core::SequenceError::on_out_of_range:
    case core::SequenceError::dark_out_of_range:
        return refuse("[sequence] a flash may be lit for 5 s and dark for 5 s at most; raise rate_per_min");
    default: // the rest was judged field by field
        break;
    }
}

} // namespace

LampPlan LampPlan::only(const std::vector<std::string>& names) const {
    if (names.empty()) return *this;
    std::vector<std::string_view> known;
    for (const LampGroup& group : lamps)
        known.push_back(group.name);
    for (const std::string& name : names)
        if (std::find(known.begin(), known.end(), name) == known.end())
            throw InputError(fmt::format("{}: no [[lamps]] with the name \"{}\"{}", origin, name,
                                         did_you_mean(name, known)));
    LampPlan fewer = *this;
    std::erase_if(fewer.lamps, [&](const LampGroup& group) {
        return std::find(names.begin(), names.end(), group.name) == names.end();
    });
    check_plan(fewer);
    return fewer;
}

std::vector<core::LampGroup> LampPlan::groups() const {
    std::vector<core::LampGroup> groups;
    for (const LampGroup& group : lamps)
        groups.push_back(group.plays);
    return groups;
}

LampPlan lamp_plan_of(const Vehicle& vehicle) {
    LampPlan plan;
    plan.origin = vehicle.path();
    plan.still_example = still_example(vehicle);
    plan.lamps = lamps_of(vehicle);
    plan.warnings = lamp_warnings(plan.lamps);
    for_section(vehicle, "sequence", [&](TomlFields& fields) { read_sequence(fields, plan.timing); });
    if (!plan.lamps.empty()) check_plan(plan);
    return plan;
}

} // namespace winkhold::bike
