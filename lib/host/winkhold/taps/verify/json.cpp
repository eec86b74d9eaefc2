// The regression suite for programs: JSON.
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/taps/verify/report.hpp"

namespace winkhold::taps {
namespace {

Json change(const std::optional<IndicationChange>& change) {
    if (!change) return nullptr;
    return {{"t_us", change->t_us}, {"indication", name(change->indication)}};
}

} // namespace

std::string verify_json(const VerifyRun& run) {
    Json json;
    json["schema"] = "winkhold.verify/1";
    json["folder"] = legible(run.folder);
    for (const Outcome outcome : {Outcome::passed, Outcome::differs, Outcome::refused})
        json[std::string(name(outcome))] = run.count(outcome);
    json["cases"] = Json::array();
    for (const CaseResult& result : run.results) {
        Json one{{"case", legible(result.found.name)}, {"outcome", name(result.outcome)}};
        if (result.outcome == Outcome::refused) {
            one["complaint"] = legible(result.complaint);
        } else {
            one["origin"] = name(result.read.provenance.origin);
            one["reason"] = legible(result.read.provenance.reason);
            one["tolerance_us"] = result.read.tolerance_us;
            one["changes"] = result.read.expected->size();
        }
        if (result.difference)
            one["difference"] = {{"kind", name(result.difference->kind)},
                                 {"expected", change(result.difference->expected)},
                                 {"got", change(result.difference->got)}};
        json["cases"].push_back(std::move(one));
    }
    return json_text(json);
}

} // namespace winkhold::taps
