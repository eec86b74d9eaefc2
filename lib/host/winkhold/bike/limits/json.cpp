// The judgement for programs.
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/bike/limits/report.hpp"

namespace winkhold::bike {
namespace {

Json finding_json(const Finding& finding) {
    const Limit& limit = finding.limit;
    Json json;
    json["id"] = legible(limit.id);
    json["what"] = legible(limit.what);
    json["measure"] = name(limit.measure);
    json["ruling"] = name(finding.ruling);
    json["value"] = or_null(finding.value);
    if (finding.at_least) json["at_least"] = true;
    json["least"] = or_null(limit.least);
    json["most"] = or_null(limit.most);
    json["unit"] = name(limit.unit);
    json["margin"] = or_null(finding.margin);
    if (finding.rate)
        json["rate"] = {{"cycles", finding.rate->cycles},
                        {"mean_of_rates_per_min", finding.rate->mean_of_rates_per_min},
                        {"of_mean_period_per_min", finding.rate->of_mean_period_per_min}};
    if (finding.value)
        json["where"] = {{"of", legible(finding.where)},
                         {"at_us", finding.at_us},
                         {"trial", finding.trial},
                         {"readings", finding.readings}};
    if (!finding.why.empty()) json["why"] = legible(finding.why);
    json["publication"] = legible(limit.publication);
    json["clause"] = legible(limit.clause);
    json["mark"] = name(limit.mark);
    json["note"] = legible(limit.note);
    return json;
}

} // namespace

std::string limits_json(const Judgement& judgement, const std::string& title) {
    Json json;
    json["schema"] = "winkhold.limits/2";
    json["of"] = legible(title);
    json["place"] = legible(judgement.profile.place);
    json["kind"] = legible(judgement.profile.kind);
    if (!judgement.assumed.empty()) json["assumed"] = judgement.assumed;
    if (!judgement.still_example.sections.empty()) json["still_example"] = judgement.still_example.sections;
    if (!judgement.warnings.empty()) json["lamp_warnings"] = judgement.warnings;
    json["broken"] = judgement.count(Ruling::broken);
    json["kept"] = judgement.count(Ruling::kept);
    json["not_judged"] = judgement.count(Ruling::not_judged);
    json["incomplete"] = judgement.incomplete;
    json["limits"] = Json::array();
    for (const Finding& finding : judgement.findings)
        json["limits"].push_back(finding_json(finding));
    json["notes"] = Json::array();
    for (const std::string& note : judgement.notes)
        json["notes"].push_back(legible(note));
    json["caution"] = "Local law and a licensed inspector decide. " + legible(caution);
    return json_text(json);
}

} // namespace winkhold::bike
