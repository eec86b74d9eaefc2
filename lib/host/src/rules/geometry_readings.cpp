// What the vehicle file says of lamps that light one after the other.
#include "rules/readings.hpp"

#include <fmt/format.h>

namespace winkhold::host {

bool lights_in_turn(const core::LampGroup& group) {
    return group.job == core::Job::turn && !group.all_at_once() &&
           group.pattern.fills == core::Pattern::Fills::lamps;
}

Readings read_geometry(const Limit& limit, const Lamps& lamps) {
    const bool gap = limit.measure == Measure::sequence_gap;
    Readings readings;
    readings.why_none = "no [[lamps]] are known that light one after the other";
    for (const LampGroup& group : lamps) {
        if (!lights_in_turn(group.plays)) continue;
        std::optional<double> value = gap ? group.gap_mm : std::nullopt;
        if (!gap && group.width_mm && group.height_mm) value = *group.width_mm / *group.height_mm;
        if (value)
            readings.add(*value, group.name, 0, 0);
        else
            readings.unknown.push_back(
                fmt::format("{}: no {}", group.name, gap ? "gap_mm" : "width_mm and height_mm"));
    }
    return readings;
}

} // namespace winkhold::host
