#include "winkhold/bike/electrics/detail/plausible.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/base/vehicle/plausible.hpp"

#include <fmt/format.h>

namespace winkhold::bike {
namespace {

Check finding(const Vehicle& vehicle, const std::string& field, double value, Bound bound, double limit,
              std::string unit, std::string source, std::string advice) {
    const Vehicle::Place place = *vehicle.given(field);
    return judged("implausible",
                  fmt::format("{} ({}:{})", field_text(field), legible(place.file), place.line), value, bound,
                  limit, std::move(unit), std::move(source), std::move(advice));
}

/// An LED's colour sets its voltage within bounds.
std::optional<Check> colour_against_voltage(const Vehicle& vehicle, const std::string& field,
                                            const LampGroup& group) {
    if (!group.led_v || !group.colour || implausible(vehicle, field)) return {};
    constexpr double beside_v = 0.5; // LEDs of other currents than 20 mA
    const Range typical_v = led_volts(*group.colour);
    const bool low = *group.led_v < typical_v.least - beside_v;
    if (!low && *group.led_v <= typical_v.most + beside_v) return {};
    constexpr std::string_view colours[] = {"amber", "red", "white"};
    return finding(vehicle, field, *group.led_v, low ? Bound::at_least : Bound::at_most,
                   low ? typical_v.least - beside_v : typical_v.most + beside_v, "V",
                   "typical LEDs at 20 mA, 0.5 V beside (common practice)",
                   fmt::format("an LED of {:g} V is hardly {}: look at both", *group.led_v,
                               colours[static_cast<std::size_t>(*group.colour)]));
}

} // namespace

std::set<std::string> judge_plausible(const Vehicle& vehicle, const Lamps& lamps, Checks& checks) {
    for (const Implausible& one : implausible_fields(vehicle)) {
        if (one.usual.section == "wires") continue;
        checks.push_back(finding(vehicle, one.field, one.value,
                                 one.is_low() ? Bound::at_least : Bound::at_most,
                                 one.is_low() ? one.usual.least : one.usual.most, std::string(one.usual.unit),
                                 "usual parts: common practice, no source", advice_on(one)));
    }
    std::set<std::string> fields;
    for (std::size_t i = 0; i < lamps.size(); ++i) {
        const std::string field = fmt::format("lamps.{}.led_v", i);
        if (std::optional<Check> check = colour_against_voltage(vehicle, field, lamps[i])) {
            checks.push_back(std::move(*check));
            fields.insert(field);
        }
    }
    return fields;
}

} // namespace winkhold::bike
