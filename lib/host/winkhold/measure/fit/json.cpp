// The fit for programs.
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/measure/fit/report.hpp"

namespace winkhold::measure {
namespace {

Json estimate_json(const Estimate& e, double unit = 1) {
    return {{"value", e.value / unit}, {"low", e.low / unit}, {"high", e.high / unit}};
}

Json rhythm_json(const RhythmFit& r) {
    Json json{{"on_times", r.on_count},
              {"dark_times", r.dark_count},
              {"odd", r.odd},
              {"at_s", r.at_min * 60},
              {"period_ms", estimate_json(r.period_us, 1e3)},
              {"rate_per_min", estimate_json(r.rate_per_min)},
              {"on_ms", estimate_json(r.on_us, 1e3)},
              {"dark_ms", estimate_json(r.dark_us, 1e3)},
              {"duty_percent", estimate_json(r.duty_percent)},
              {"jitter_percent", estimate_json(r.jitter_percent)},
              {"drift_percent_per_min", estimate_json(r.drift_percent_per_min)},
              {"drifts", r.drifts}};
    return json;
}

Json skew_json(const std::optional<SkewFit>& skew) {
    if (!skew) return nullptr;
    return {{"flashes", skew->flashes},
            {"least", estimate_json(skew->least_us, 1e3)},
            {"most", estimate_json(skew->most_us, 1e3)}};
}

Json side_change_json(const SideChangeFit& fit) {
    Json json;
    json["changes"] = fit.changes;
    json["model"] = fit.model ? Json(name(*fit.model)) : Json(nullptr);
    for (const SideChange model : all_side_changes)
        json["chance"][std::string(name(model))] = fit.chance[static_cast<std::size_t>(model)];
    json["travel_ms"] = nullptr;
    if (fit.cut > 0)
        json["travel_ms"] = {
            {"changes", fit.cut}, {"min", ms(fit.dark_least_us)}, {"max", ms(fit.dark_most_us)}};
    return json;
}

} // namespace

std::string fit_json(const BikeFit& fit, const std::string& title) {
    Json json;
    json["schema"] = "winkhold.fit/1";
    json["recording"] = title;
    json["runs"] = fit.bursts;
    json["set_aside"] = fit.set_aside;
    json["rhythm"] = rhythm_json(fit.rhythm);
    json["other_rhythm"] = nullptr;
    if (fit.other) {
        json["other_rhythm"] = rhythm_json(fit.other->rhythm);
        json["other_rhythm"]["lamp_out"] = fit.other->lamp_out;
        json["other_rhythm"]["interleaved"] = fit.other->interleaved;
        json["other_rhythm"]["group_size"] = fit.other->group_size;
    }
    json["missing_flash_percent"] = estimate_json(fit.missing_flash_percent);
    json["bounce"] = {{"rises", fit.bounce.rises},
                      {"like_model", fit.bounce.like_model},
                      {"bounce_ms", estimate_json(fit.bounce.bounce_us, 1e3)},
                      {"pulses", estimate_json(fit.bounce.pulses)}};
    json["rise_skew_ms"] = skew_json(fit.rise_skew);
    json["fall_skew_ms"] = skew_json(fit.fall_skew);
    json["first_on_extra_ms"] =
        fit.first_on_extra_us ? estimate_json(*fit.first_on_extra_us, 1e3) : Json(nullptr);
    json["side_change"] = side_change_json(fit.side_change);
    json["open"] = open_questions(fit);
    return json_text(json);
}

} // namespace winkhold::measure
