#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/bike/limits/observed.hpp"
#include "winkhold/measure/front_end/tap_edges.hpp"

#include <algorithm>

namespace winkhold::bike {

BrakeTap brake_tap_of(const Vehicle& vehicle) {
    BrakeTap tap;
    const auto front_end = front_end_of(vehicle);
    if (!front_end) {
        tap.why_not_known = "enter [front_end]: it says how late the brake's tap is";
        return tap;
    }
    std::vector<std::string> fields;
    for (const TappedLine line : {TappedLine::brake, TappedLine::second_brake}) {
        if (!front_end->has(line)) continue;
        const std::vector<std::string> its = fields_of_edges(*front_end, line);
        fields.insert(fields.end(), its.begin(), its.end());
        const auto lit_us = lit_after_us(*front_end, line);
        if (!lit_us) continue;
        tap.late_us.least = tap.late_us.most > 0 ? std::min(tap.late_us.least, lit_us->least) : lit_us->least;
        tap.late_us.most = std::max(tap.late_us.most, lit_us->most);
    }
    tap.why_not_known = why_not_known(vehicle, fields);
    return tap;
}

} // namespace winkhold::bike
