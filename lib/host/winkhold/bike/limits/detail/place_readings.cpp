// Where the turn lamps are, and their colour.
#include "winkhold/bike/limits/detail/readings.hpp"

#include <fmt/format.h>

namespace winkhold::bike {
namespace {

struct Dimension {
    const char* key;
    std::optional<double> LampGroup::*value;
    std::optional<LampEnd> only_at; ///< the key has a meaning at this end alone
};

Dimension dimension_of(LimitMeasure measure) {
    switch (measure) {
    case LimitMeasure::across:
        return {"across_mm", &LampGroup::across_mm, {}};
    case LimitMeasure::to_headlamp:
        return {"headlamp_mm", &LampGroup::headlamp_mm, LampEnd::front};
    case LimitMeasure::to_stop_lamp:
        return {"stop_lamp_mm", &LampGroup::stop_lamp_mm, LampEnd::rear};
    case LimitMeasure::low_edge:
        return {"low_edge_mm", &LampGroup::low_edge_mm, {}};
    case LimitMeasure::high_edge:
        return {"high_edge_mm", &LampGroup::high_edge_mm, {}};
    default:
        return {"ahead_of_rear_mm", &LampGroup::ahead_of_rear_mm, LampEnd::rear};
    }
}

} // namespace

const char* field_of(LimitMeasure measure) {
    return measure == LimitMeasure::turn_colour ? "colour" : dimension_of(measure).key;
}

Readings read_places(const Limit& limit, const Lamps& lamps) {
    Readings readings;
    readings.why_none = "no turn lamps are known that it could hold for ([[lamps]], --vehicle)";
    const bool colour = limit.measure == LimitMeasure::turn_colour;
    const Dimension dimension = dimension_of(limit.measure);
    for (const LampGroup& group : lamps) {
        if (group.plays.job != core::Job::turn) continue;
        const std::optional<LampEnd> at = limit.at ? limit.at : colour ? std::nullopt : dimension.only_at;
        const auto unknown = [&](const char* key) {
            readings.unknown.push_back(fmt::format("enter {} of [[lamps]] {}", key, group.name));
        };
        if (at && !group.at)
            unknown("at");
        else if (at && group.at != at)
            continue;
        else if (colour && group.colour)
            readings.add(*group.colour == LampColour::amber ? 0 : 1, group.name, 0, 0);
        else if (colour)
            unknown("colour");
        else if (group.*dimension.value)
            readings.add(*(group.*dimension.value), group.name, 0, 0);
        else
            unknown(dimension.key);
    }
    return readings;
}

} // namespace winkhold::bike
