// The families for programs: JSON.
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/measure/families/report.hpp"

namespace winkhold::measure {
namespace {

Json figures(const FamilyReport& report, const std::vector<FamilyFigures>& of) {
    Json list = Json::array();
    for (std::size_t d = 0; d < of.size(); ++d)
        list.push_back({{"decoder", report.decoders[d]},
                        {"requests", of[d].requests},
                        {"dropouts", of[d].dropouts},
                        {"away_ms", static_cast<double>(of[d].away_us) / 1e3},
                        {"false_shows", of[d].false_shows},
                        {"lone_hazards", of[d].lone_hazards}});
    return list;
}

Json names(const FamilyRun& run, const FamilyRow& row) {
    Json list = Json::array();
    for (const std::size_t i : row.families)
        list.push_back(run.families[i].name);
    return list;
}

} // namespace

std::string families_json(const FamilyReport& report) {
    const FamilyRun& run = report.run;
    Json json{{"schema", "winkhold.families/1"},
              {"seed", report.plan.seed},
              {"rides", report.plan.rides},
              {"mixed_rides", report.plan.mixed_rides}};
    json["mean_dropouts"] = Json::array();
    for (std::size_t d = 0; d < report.decoders.size(); ++d)
        json["mean_dropouts"].push_back(
            {{"decoder", report.decoders[d]}, {"a_request", mean_dropout_rate(run, d)}});
    json["rows"] = Json::array();
    for (const FamilyRow& row : run.rows) {
        Json one{{"families", names(run, row)}, {"decoders", figures(report, row.all)}};
        if (!row.variants.empty()) one["variants"] = Json::array();
        for (std::size_t v = 0; v < row.variants.size(); ++v)
            one["variants"].push_back({{"variant", run.families[row.families.front()].variants[v].name},
                                       {"decoders", figures(report, row.variants[v])}});
        json["rows"].push_back(std::move(one));
    }
    json["misses"] = Json::array();
    if (report.verdict.mean_is_over())
        json["misses"].push_back({{"families", Json::array()},
                                  {"what", "mean dropouts"},
                                  {"value", *report.verdict.mean_dropouts},
                                  {"limit", most_mean_dropouts}});
    for (const FamilyMiss& miss : report.verdict.misses)
        json["misses"].push_back({{"families", names(run, run.rows[miss.row])},
                                  {"what", name(miss.what)},
                                  {"value", miss.value},
                                  {"limit", miss.limit}});
    return json_text(json);
}

} // namespace winkhold::measure
