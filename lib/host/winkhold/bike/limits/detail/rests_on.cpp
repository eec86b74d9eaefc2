#include "winkhold/bike/limits/detail/rests_on.hpp"

#include "winkhold/base/joined.hpp"
#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/bike/lamps/contradictions.hpp"
#include "winkhold/bike/limits/detail/readings.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using Fields = std::vector<std::string>;

void add(Fields& fields, const Fields& more) {
    fields.insert(fields.end(), more.begin(), more.end());
}

/// How a flasher goes on once it has begun.
Fields rhythm(const Vehicle& ride) {
    if (ride.given("flasher.cycle")) return {"flasher.cycle", "flasher.jitter_percent"};
    return {"flasher.rate_per_min", "flasher.duty_percent", "flasher.jitter_percent"};
}

/// From the switch to the line: an oscillator that never stops has no delay of its own.
Fields first_light(const Vehicle& ride, const Basis& basis) {
    Fields fields{"flasher.side_change"};
    if (basis.runs_free)
        add(fields, rhythm(ride));
    else
        fields.emplace_back("flasher.start_delay");
    fields.emplace_back("lines.bounce");
    return fields;
}

/// From a line to its pin.
Fields input_stage(const Vehicle& ride) {
    if (!ride.has("front_end") && ride.given("volts.filter_tau")) return {"volts.filter_tau"};
    return {"front_end.top_kohm", "front_end.bottom_kohm", "front_end.capacitor_nf", "front_end.input"};
}

bool lights_turn_lamps(const Lamps& lamps) {
    return std::any_of(lamps.begin(), lamps.end(),
                       [](const LampGroup& group) { return group.plays.job == core::Job::turn; });
}

Fields of_the_ride(const Limit& limit, const Lamps& lamps, const Basis& basis) {
    const Vehicle& ride = *basis.ride;
    Fields fields;
    switch (limit.measure) {
    case LimitMeasure::flash_rate:
        return rhythm(ride);
    case LimitMeasure::on_share:
        add(fields, rhythm(ride));
        fields.emplace_back("lines.bounce");
        return fields;
    case LimitMeasure::first_dark:
    case LimitMeasure::first_dark_mean:
    case LimitMeasure::first_cycle:
    case LimitMeasure::first_cycle_mean:
        add(fields, rhythm(ride));
        fields.emplace_back("flasher.first_on_extra");
        [[fallthrough]];
    case LimitMeasure::first_light:
        add(fields, first_light(ride, basis));
        if (lights_turn_lamps(lamps)) add(fields, input_stage(ride));
        return fields;
    case LimitMeasure::hazard_phase:
        return {"lines.rise_skew"};
    case LimitMeasure::sequence_time:
        return lights_turn_lamps(lamps) && !ride.given("sequence.rate_per_min") ? rhythm(ride) : fields;
    case LimitMeasure::stop_lamp_delay:
        return lamps.empty() ? fields : input_stage(ride);
    default:
        return {};
    }
}

/// True if the measure looks at a group's own fields.
bool looks_at(const Limit& limit, const LampGroup& group) {
    const bool is_turn =
        group.plays.job == core::Job::turn && (!limit.at || !group.at || limit.at == group.at);
    if (is_of_turn_lamps(limit.measure)) return is_turn;
    switch (limit.measure) {
    case LimitMeasure::stop_lamp_delay:
    case LimitMeasure::stop_to_tail:
        return group.plays.job == core::Job::stop;
    case LimitMeasure::side_phase:
    case LimitMeasure::sequence_latched:
    case LimitMeasure::sequence_outward:
    case LimitMeasure::sequence_uniform:
    case LimitMeasure::sequence_time:
    case LimitMeasure::sequence_gap:
    case LimitMeasure::sequence_aspect:
        return is_turn;
    default:
        return false;
    }
}

/// Figures of a group's table that the measure reads; what is left out is the reader's matter.
std::vector<std::string_view> figures_of(LimitMeasure measure) {
    if (is_of_turn_lamps(measure)) return {field_of(measure)};
    switch (measure) {
    case LimitMeasure::stop_to_tail:
        return {"brightness", "dimmed"};
    case LimitMeasure::sequence_gap:
        return {"gap_mm"};
    case LimitMeasure::sequence_aspect:
        return {"width_mm", "height_mm"};
    case LimitMeasure::sequence_uniform:
    case LimitMeasure::sequence_time:
        return {"count", "step", "stay", "blank"};
    default:
        return {};
    }
}

} // namespace

std::string why_bike_not_known(const Limit& limit, const Lamps& lamps, const Basis& basis) {
    std::vector<std::string> whys;
    if (basis.ride) whys.push_back(why_not_known(*basis.ride, of_the_ride(limit, lamps, basis)));
    Fields fields;
    for (std::size_t i = 0; i < lamps.size(); ++i) {
        if (!looks_at(limit, lamps[i])) continue;
        fields.push_back(fmt::format("lamps.{}", i));
        for (const std::string_view key : figures_of(limit.measure))
            if (const std::string field = fmt::format("lamps.{}.{}", i, key);
                basis.bike && basis.bike->given(field))
                fields.push_back(field);
    }
    if (basis.bike) whys.push_back(why_not_known(*basis.bike, fields));
    for (const LampContradiction& one : contradictions_of(lamps))
        if (one.kind == LampContradiction::Kind::name && looks_at(limit, lamps[one.group]))
            whys.push_back(one.text);
    std::erase(whys, "");
    return joined(whys, "; ");
}

std::string why_limit_not_known(const Limit& limit, const Basis& basis) {
    std::vector<std::string> whys;
    if (!limit.everywhere) whys.push_back(basis.place_not_known);
    if (!limit.kinds.empty()) whys.push_back(basis.kind_not_known);
    std::erase(whys, "");
    return joined(whys, "; ");
}

bool has_example_lamps(const Lamps& lamps, const Vehicle& bike) {
    for (std::size_t i = 0; i < lamps.size(); ++i)
        if (bike.origin(fmt::format("lamps.{}", i)) == Vehicle::Origin::example) return true;
    return false;
}

} // namespace winkhold::bike
