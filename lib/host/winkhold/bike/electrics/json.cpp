// The electrics for programs.
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/bike/electrics/report.hpp"

#include <cmath>

namespace winkhold::bike {
namespace {

/// What never happens, and what is not known, is null.
Json number(const std::optional<double>& value) {
    return value && std::isfinite(*value) ? Json(*value) : Json(nullptr);
}

Json range_json(const Range& range) {
    return Json::list_of({number(range.least), number(range.most)});
}

Json check_json(const Check& c) {
    return {{"part", c.part},
            {"what", c.what},
            {"verdict", name(c.verdict)},
            {"value", number(c.value)},
            {"bound", c.limit ? Json(name(c.bound)) : Json(nullptr)},
            {"limit", number(c.limit)},
            {"unit", c.unit},
            {"source", c.source},
            {"advice", c.verdict == CheckVerdict::passed ? "" : c.advice}};
}

Json front_end_json(const FrontEndFigures& f) {
    Json json{{"gain", range_json(f.gain)},
              {"tau_us", range_json(f.tau_us)},
              {"certain_high_v", f.certain_high_v},
              {"certain_low_v", f.certain_low_v},
              {"edges", Json::array()},
              {"transients", Json::array()}};
    for (const EdgeFigures& e : f.edges)
        json["edges"].push_back({{"line_v", e.line_v},
                                 {"margin_v", e.margin_v},
                                 {"rise_us", range_json(e.rise_us)},
                                 {"fall_us", range_json(e.fall_us)},
                                 {"width_us", range_json(e.width_us)},
                                 {"rise_skew_us", number(e.rise_skew_us)},
                                 {"fall_skew_us", number(e.fall_skew_us)}});
    json["taps"] = Json::array();
    for (const TapFigures& tap : f.taps) {
        Json edges = Json::array();
        for (const EdgeFigures& e : tap.edges)
            edges.push_back({{"line_v", e.line_v},
                             {"lit_us", range_json(e.lit_us(tap.active_low))},
                             {"dark_us", range_json(e.dark_us(tap.active_low))}});
        json["taps"].push_back(
            {{"line", name(tap.line)}, {"active", tap.active_low ? "low" : "high"}, {"edges", edges}});
    }
    for (const TransientFigures& t : f.transients)
        json["transients"].push_back({{"name", t.transient.name},
                                      {"line_v", t.transient.line_v},
                                      {"length_us", t.transient.length_us},
                                      {"pin_v", t.pin_v},
                                      {"clamp_ma", t.clamp_ma},
                                      {"dark_reads_high_us", number(t.high_us)},
                                      {"source", t.transient.source}});
    json["let_go_line_v"] = f.dark_line_v;
    json["let_go_pin_v"] = f.dark_pin_v;
    json["leakage_ohm"] = {{"false_high_line", number(f.false_high_line_ohm)},
                           {"false_high_pin", number(f.false_high_pin_ohm)},
                           {"stuck_line", number(f.stuck_line_ohm)},
                           {"stuck_pin", number(f.stuck_pin_ohm)}};
    json["bleeder_needed_ohm"] = f.bleeder_needed_ohm > 0 ? Json(f.bleeder_needed_ohm) : Json(nullptr);
    json["bleeder_w"] = f.bleeder_w;
    return json;
}

Json group_json(const GroupLoad& load) {
    Json json{{"name", load.name}, {"known", load.known()}, {"strings", Json::array()}};
    for (const LampString& s : load.strings)
        json["strings"].push_back({{"count", s.count},
                                   {"leds", s.leds},
                                   {"resistor_ohm", number(s.resistor_ohm)},
                                   {"rating_w", number(s.resistor_rating_w)},
                                   {"nominal_ma", s.nominal_ma},
                                   {"ma", range_json(s.ma)},
                                   {"heat_w", s.heat_w}});
    json["nominal_ma"] = load.known() ? Json(load.nominal_ma) : Json(nullptr);
    json["most_ma"] = load.known() ? Json(load.most_ma) : Json(nullptr);
    json["wire"] = nullptr;
    if (load.wire)
        json["wire"] = {{"awg", load.wire->gauge.awg},
                        {"length_m", load.wire->length_m},
                        {"drop_v", load.wire->drop_v},
                        {"ampacity_a", load.wire->gauge.ampacity_a},
                        {"fuse_a", number(load.wire->fuse_a)}};
    return json;
}

} // namespace

std::string electrics_json(const Electrics& electrics) {
    Json json{{"schema", "winkhold.electrics/1"},
              {"vehicle", electrics.vehicle},
              {"findings", electrics.has_findings()},
              {"checks", Json::array()}};
    if (!electrics.warnings.empty()) json["lamp_warnings"] = electrics.warnings;
    if (!electrics.still_example.sections.empty()) json["still_example"] = electrics.still_example.sections;
    for (const Check& check : electrics.checks)
        json["checks"].push_back(check_json(check));
    json["front_end"] = electrics.front_end ? front_end_json(*electrics.front_end) : Json(nullptr);
    json["groups"] = Json::array();
    for (const GroupLoad& load : electrics.groups)
        json["groups"].push_back(group_json(load));
    json["lines"] = Json::array();
    for (const LineTotal& line : electrics.lines)
        json["lines"].push_back({{"line", line.line},
                                 {"nominal_ma", line.nominal_ma},
                                 {"most_ma", line.most_ma},
                                 {"all_known", line.all_known}});
    json["pins"] = Json::array();
    for (const PinLoad& pin : electrics.pins)
        json["pins"].push_back({{"pin", pin.pin},
                                {"driver", name(pin.driver)},
                                {"strings", pin.strings},
                                {"nominal_ma", pin.nominal_ma},
                                {"most_ma", pin.most_ma}});
    json["standby_days"] = number(electrics.standby_days);
    json["caution"] = caution;
    return json_text(json);
}

} // namespace winkhold::bike
