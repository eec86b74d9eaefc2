#include "winkhold/bike/checklist/detail/points.hpp"

#include "winkhold/bike/wiring/detail/judges.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::bike {

void Points::add(CheckPoint point) {
    const std::string id = point.id;
    const auto is_taken = [&] {
        return std::any_of(points_.begin(), points_.end(),
                           [&](const CheckPoint& one) { return one.id == point.id; });
    };
    for (int number = 2; is_taken(); ++number)
        point.id = fmt::format("{}-{}", id, number);
    points_.push_back(std::move(point));
}

std::optional<double> rounded(std::optional<double> limit, double (*to_side)(double)) {
    if (!limit || !std::isfinite(*limit)) return {};
    if (*limit <= 0) return limit;
    const double digits = 2 - std::floor(std::log10(*limit));
    const double scale = std::pow(10, std::abs(digits)); // a whole number: 2.83 comes out as 2.83
    return digits >= 0 ? to_side(*limit * scale) / scale : to_side(*limit / scale) * scale;
}

std::vector<std::string_view> taps_of(const Wiring& wiring) {
    std::vector<std::string_view> tapped;
    for (const std::string_view line : tap_lines)
        if (std::any_of(wiring.wires.begin(), wiring.wires.end(), [&](const Wire& wire) {
                const WireEnd* const tap = wire.end(WireEnd::Kind::tap);
                return tap != nullptr && tap->name == line;
            }))
            tapped.push_back(line);
    return tapped;
}

bool has_job(const Lamps& lamps, core::Job job) {
    return std::any_of(lamps.begin(), lamps.end(),
                       [&](const LampGroup& group) { return group.plays.job == job; });
}

bool has_tap(const Wiring& wiring, std::string_view line) {
    const std::vector<std::string_view> tapped = taps_of(wiring);
    return std::find(tapped.begin(), tapped.end(), line) != tapped.end();
}

std::string id_of(std::string_view name) {
    std::string id = plain_name(name);
    std::replace_if(
        id.begin(), id.end(),
        [](char c) { return (c < 'a' || c > 'z') && (c < '0' || c > '9') && (c & 0x80) == 0; }, '-');
    return id;
}

std::vector<CheckPoint> check_points(const BikeFacts& bike) {
    Points points;
    add_contradictions(bike, points);
    add_bench(bike, points);
    add_procedure(bike, points);
    add_wet(bike, points);
    add_power(bike, points);
    add_functions(bike, points);
    add_unseen(bike, points);
    add_road(points);
    return points.take();
}

} // namespace winkhold::bike
