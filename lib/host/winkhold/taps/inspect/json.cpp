// The inspection for programs.
#include "winkhold/base/text/detail/json.hpp"
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/taps/inspect/detail/names.hpp"
#include "winkhold/taps/inspect/report.hpp"

namespace winkhold::taps {
namespace {

Json lengths_json(const Lengths& l) {
    return {{"count", l.count},    {"mean", ms(l.mean_us)}, {"min", ms(l.least_us)}, {"p5", ms(l.p5_us)},
            {"p50", ms(l.p50_us)}, {"p95", ms(l.p95_us)},   {"max", ms(l.most_us)}};
}

Json bounce_json(const EdgeBounce& bounce) {
    return {{"edges", bounce.edges},
            {"bounced", bounce.bounced},
            {"changes_mean", bounce.changes_mean},
            {"settling_ms", lengths_json(bounce.settling)},
            {"longest_false_ms", ms(bounce.longest_false_us)}};
}

Json short_json(const std::array<std::int64_t, 3>& below) {
    return {{"below_1ms", below[0]}, {"below_5ms", below[1]}, {"below_20ms", below[2]}};
}

Json line_json(const LineView& line, core::Side side) {
    Json json;
    json["line"] = name(side);
    json["kind"] = name(line.kind);
    json["polarity"] = name(line.polarity);
    json["rests"] = line.changes == 0 && line.lights.empty() ? "low" : line.rests_high ? "high" : "low";
    json["lit_percent"] = line.lit_percent;
    json["changes"] = line.changes;
    json["short_highs"] = short_json(line.highs_below);
    json["short_lows"] = short_json(line.lows_below);
    json["pulses"] = line.pulses;
    json["longest_pulse_ms"] = ms(line.longest_pulse_us);
    json["breaks"] = line.breaks;
    json["noise"] = nullptr;
    if (line.noise)
        json["noise"] = {{"per_min", line.noise->per_min},
                         {"busiest_from_us", line.noise->busiest_from_us},
                         {"busiest_to_us", line.noise->busiest_to_us},
                         {"in_busiest", line.noise->in_busiest}};
    json["dark_chopped"] = line.dark_chopped;
    json["pwm"] = nullptr;
    if (line.pwm)
        json["pwm"] = {{"hz", line.pwm->hz},
                       {"duty_percent", line.pwm->duty_percent},
                       {"dimmest_percent", line.pwm->dimmest_percent},
                       {"brightest_percent", line.pwm->brightest_percent},
                       {"longest_low_ms", ms(line.pwm->longest_low_us)}};
    json["rise"] = line.pwm ? Json(nullptr) : bounce_json(line.rise);
    json["fall"] = line.pwm ? Json(nullptr) : bounce_json(line.fall);
    json["flashes"] = line.lights.size();
    json["on_ms"] = lengths_json(line.on);
    json["dark_ms"] = lengths_json(line.dark);
    json["rate"] = nullptr;
    if (line.rate.cycles > 0)
        json["rate"] = {{"cycles", line.rate.cycles},
                        {"mean_of_rates_per_min", line.rate.mean_of_rates_per_min},
                        {"of_mean_period_per_min", line.rate.of_mean_period_per_min}};
    json["drift"] = nullptr;
    if (line.drift)
        json["drift"] = {{"percent_per_min", line.drift->percent_per_min},
                         {"low", line.drift->low},
                         {"high", line.drift->high}};
    json["faults"] = Json::array();
    for (const auto& [fault, count] : line.faults)
        json["faults"].push_back({{"fault", name(fault)}, {"count", count}});
    return json;
}

Json suggestion_json(const Suggestion& suggestion) {
    return {{"ms", ms(suggestion.us)}, {"reason", suggestion.reason}};
}

} // namespace

std::string inspect_json(const Inspection& seen) {
    Json json;
    json["schema"] = "winkhold.inspect/1";
    json["start_us"] = seen.start_us;
    json["end_us"] = seen.end_us;
    json["tick_us"] = seen.tick_us;
    json["verdict"] = verdict_of(seen);
    json["lines"] = Json::array();
    for (const core::Side side : {core::Side::left, core::Side::right})
        json["lines"].push_back(line_json(seen.lines[static_cast<std::size_t>(side)], side));
    json["skew"] = nullptr;
    if (seen.skew.any())
        json["skew"] = {{"rise_ms", lengths_json(lengths_of(seen.skew.rise_us))},
                        {"fall_ms", lengths_json(lengths_of(seen.skew.fall_us))}};
    json["amplitudes"] = nullptr;
    if (seen.amplitudes)
        json["amplitudes"] = {{"left_v", seen.amplitudes->lit_v[0]},
                              {"right_v", seen.amplitudes->lit_v[1]},
                              {"fed_flashes", seen.amplitudes->fed_flashes},
                              {"fed_ratio", seen.amplitudes->fed_ratio}};
    json["other_taps"] = Json::array();
    for (const OtherTap& tap : seen.others)
        json["other_taps"].push_back({{"tap", name(tap.tap)},
                                      {"times", tap.times},
                                      {"high_percent", tap.high_percent},
                                      {"longest_high_ms", ms(tap.longest_high_us)},
                                      {"short_highs", tap.short_highs},
                                      {"dips", tap.dips},
                                      {"longest_dip_ms", ms(tap.longest_dip_us)}});
    json["suggested"] = {{"settle", suggestion_json(seen.settle)},
                         {"pwm_gap", suggestion_json(seen.pwm_gap)},
                         {"hold", suggestion_json(seen.hold)}};
    return json_text(json);
}

} // namespace winkhold::taps
