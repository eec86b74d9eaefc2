// The soak for programs: JSON.
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/measure/soak/report.hpp"

namespace winkhold::measure {
namespace {

double ms(TimeUs us) {
    return static_cast<double>(us) / 1e3;
}

Json ride_or_null(const SoakCount& count) {
    return count.ride < 0 ? Json(nullptr) : Json(count.ride);
}

void put_errors(Json& json, const SoakErrors& errors) {
    json["dropouts"] = errors.dropouts;
    json["false_shows"] = errors.false_shows;
    json["missed"] = errors.missed;
}

void put_latencies(Json& json, const std::array<SoakLatency, soak_figures.size()>& latencies) {
    for (std::size_t i = 0; i < soak_figures.size(); ++i) {
        const SoakLatency& latency = latencies[i];
        const std::int64_t count = latency.worst.count;
        json[std::string(soak_figures[i]) + "_ms"] = {
            {"count", count},
            {"mean", count == 0 ? 0 : ms(latency.sum_us) / static_cast<double>(count)},
            {"max", ms(latency.worst.worst_us)},
            {"ride", ride_or_null(latency.worst)}};
    }
}

Json findings(const PopulationTally& population) {
    Json list = Json::array();
    for (std::size_t kind = 0; kind < soak_kinds.size(); ++kind)
        for (std::size_t cause = 0; cause < soak_causes.size(); ++cause) {
            const SoakCount& count = population.findings[kind][cause];
            if (count.count == 0) continue;
            list.push_back({{"kind", soak_kinds[kind]},
                            {"cause", soak_causes[cause].name},
                            {"blame", blames[static_cast<std::size_t>(soak_causes[cause].blame)]},
                            {"count", count.count},
                            {"worst_ms", ms(count.worst_us)},
                            {"ride", count.ride}});
        }
    return list;
}

} // namespace

std::string soak_json(const SoakPlan& plan, const SoakTally& tally) {
    Json json{{"schema", "winkhold.soak/1"}, {"seed", plan.seed}, {"flashes", tally.flashes()}};
    json["unexplained"] = tally.unexplained();
    json["populations"] = Json::array();
    for (std::size_t p = 0; p < soak_populations.size(); ++p) {
        const PopulationTally& population = tally.populations[p];
        Json one{{"population", soak_populations[p]},
                 {"rides", population.rides},
                 {"flashes", population.flashes},
                 {"requests", population.requests}};
        put_errors(one, population.errors());
        put_latencies(one, population.latencies);
        put_errors(one["plain_hold"], population.plain);
        put_latencies(one["plain_hold"], population.plain_latencies);
        one["findings"] = findings(population);
        json["populations"].push_back(std::move(one));
    }
    json["axes"] = Json::array();
    for (std::size_t i = 0; i < soak_axes.size(); ++i) {
        const AxisTally& axis = tally.axes[i];
        Json one{{"axis", soak_axes[i]}, {"rides", axis.rides}, {"requests", axis.requests}};
        put_errors(one, axis.errors);
        put_errors(one["plain_hold"], axis.plain);
        json["axes"].push_back(std::move(one));
    }
    json["misses"] = Json::array();
    for (const SoakMiss& miss : tally.misses())
        json["misses"].push_back(
            {{"where", miss.where}, {"what", miss.what}, {"value", miss.value}, {"limit", miss.limit}});
    return json_text(json);
}

} // namespace winkhold::measure
