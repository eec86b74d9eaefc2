// What the points rest on: the owner's values, for limits from parts of the example would judge another bike.
#include "winkhold/base/vehicle/decoder_section.hpp"
#include "winkhold/base/vehicle/known.hpp"
#include "winkhold/bike/checklist/detail/points.hpp"
#include "winkhold/bike/checklist/detail/rooms.hpp"
#include "winkhold/bike/wiring/detail/known_loads.hpp"
#include "winkhold/measure/waveform/scenario.hpp"

#include <algorithm>

namespace winkhold::bike {
namespace {

/// The one limit of stop lamps, which `winkhold limits` holds them to.
std::optional<double> stop_lamp_ms() {
    const LimitBook book = LimitBook::carried_along();
    const Limit* const limit = book.find("any-place.stop-lamp-delay");
    if (limit == nullptr || !limit->most) return {};
    return *limit->most * scale(limit->unit) / 1e3;
}

double middle(const Range& range) {
    return (range.least + range.most) / 2;
}

} // namespace

BikeFacts bike_facts_of(const Vehicle& vehicle, const Wiring& wiring, const Electrics& electrics,
                        const std::optional<Profile>& profile) {
    const std::vector<std::string> examples = still_example(vehicle).sections;
    const auto is_own = [&](std::string_view section) {
        return std::find(examples.begin(), examples.end(), section) == examples.end();
    };
    const Scenario scenario = scenario_or_demo_ride(vehicle);
    const SupplySections supply = supply_sections_of(vehicle);
    BikeFacts bike{.wiring = wiring,
                   .plan = lamp_plan_of(vehicle),
                   .loads = known_loads(electrics, supply, front_end_of(vehicle)),
                   .decoder = decoder_settings(vehicle, core::Settings{}),
                   .groups = electrics.groups,
                   .stop_lamp_ms = stop_lamp_ms(),
                   .rate_per_min = middle(scenario.flasher.rate_per_min),
                   .duty_percent = middle(scenario.flasher.duty_percent),
                   .why_no_rate = why_no_rhythm(vehicle)};
    if (!is_own("lamps") || !is_own("decoder") || !is_own("sequence"))
        bike.why_no_play = "your own [[lamps]], [sequence] and [decoder]: they are still the example's";
    if (!is_own("lamps") || !is_own("board")) bike.loads.feed_ma.reset();
    if (is_own("board")) bike.board = supply.board;
    if (is_own("vehicle")) bike.limits = profile;
    if (is_own("front_end")) {
        bike.front_end = front_end_of(vehicle);
        bike.front_end_figures = electrics.front_end;
    }
    return bike;
}

} // namespace winkhold::bike
