// The faults for programs: JSON.
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/measure/faults/report.hpp"

namespace winkhold::measure {
namespace {

Json figure(const FaultResult& result) {
    const FaultFigure& worst = result.worst;
    Json json{{"what", worst.what}};
    const char* const unit = worst.is_time ? "_ms" : "";
    const auto number = [&](std::int64_t value) {
        return worst.is_time ? Json(static_cast<double>(value) / 1e3) : Json(value);
    };
    json[std::string("value") + unit] = number(worst.value);
    json[std::string("limit") + unit] = number(worst.limit);
    json["seed"] = result.worst_seed;
    json["variant"] = result.worst_variant;
    return json;
}

Json flags(unsigned mask) {
    Json list = Json::array();
    for (unsigned bit = 1; bit <= 0x80; bit <<= 1)
        if ((mask & bit) != 0) list.push_back(name(static_cast<core::Fault>(bit)));
    return list;
}

} // namespace

std::string faults_json(const FaultRun& run) {
    Json json;
    json["schema"] = "winkhold.faults/1";
    json["seeds"] = run.seeds;
    json["faults"] = Json::array();
    for (std::size_t i = 0; i < run.faults.size(); ++i) {
        const FaultCase& fault = run.faults[i];
        Json one{{"id", fault.id}, {"title", fault.title}, {"good", fault.good}, {"file", fault.file}};
        one["results"] = Json::array();
        for (std::size_t d = 0; d < run.decoders.size(); ++d) {
            const FaultResult& result = run.results[i][d];
            one["results"].push_back({{"decoder", run.decoders[d].name},
                                      {"verdict", name(result.verdict)},
                                      {"rides", result.rides},
                                      {"falls_short", result.rides_short},
                                      {"cannot_tell", result.rides_cannot_tell},
                                      {"worst", figure(result)},
                                      {"broken", result.broken},
                                      {"short_variants", result.short_variants},
                                      {"flags", flags(result.flags)}});
        }
        json["faults"].push_back(std::move(one));
    }
    return json_text(json);
}

} // namespace winkhold::measure
