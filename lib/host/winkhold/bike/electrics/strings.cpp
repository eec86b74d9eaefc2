#include "winkhold/bike/electrics/strings.hpp"

#include "winkhold/bike/electrics/e24.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

constexpr double resistor_share = 0.05; // E24
constexpr double ratings_w[] = {0.063, 0.1, 0.125, 0.25, 0.5, 1, 2, 3, 5};

/// One LED.
struct Led {
    double nominal_v;
    Range volts;
    double ma;
};

std::optional<double> rating_for(double heat_w) {
    for (const double rating_w : ratings_w)
        if (rating_w >= 2 * heat_w) return rating_w;
    return {};
}

std::optional<Led> led_of(const LampGroup& group) {
    if (!group.led_ma || !group.led_v) return {};
    Led led{*group.led_v, {}, *group.led_ma};
    if (group.colour)
        led.volts = led_volts(*group.colour);
    else
        led.volts = {0.9 * led.nominal_v, 1.1 * led.nominal_v};
    led.volts.least = std::min(led.volts.least, led.nominal_v);
    led.volts.most = std::max(led.volts.most, led.nominal_v);
    return led;
}

std::string missing_of(const LampGroup& group) {
    if (!group.led_ma) return "led_ma";
    if (!group.led_v) return "led_v";
    if (!group.in_series) return "in_series";
    return "feed";
}

LampString on_resistor(const Led& led, const StringSupply& supply, LampString string) {
    const auto left_v = [&](double supply_v, double led_v) {
        return std::max(0.0, supply_v - string.leds * led_v - supply.drop_v);
    };
    const double nominal_v = left_v(supply.nominal_v, led.nominal_v);
    const double ohm = e24_up(nominal_v / (led.ma / 1e3));
    string.resistor_ohm = ohm;
    string.nominal_ma = nominal_v / ohm * 1e3;
    string.ma = {left_v(supply.least_v, led.volts.most) / (ohm * (1 + resistor_share)) * 1e3,
                 left_v(supply.most_v, led.volts.least) / (ohm * (1 - resistor_share)) * 1e3};
    string.heat_w = string.ma.most * string.ma.most * 1e-6 * ohm * (1 - resistor_share);
    string.resistor_rating_w = rating_for(string.heat_w);
    return string;
}

LampString on_current_part(const Led& led, const StringSupply& supply, LampString string) {
    const double needed_v = string.leds * led.volts.most + supply.drop_v + supply.headroom_v.value_or(0);
    string.nominal_ma = led.ma;
    string.ma = {supply.least_v >= needed_v ? led.ma : 0, led.ma};
    string.heat_w =
        led.ma / 1e3 * std::max(0.0, supply.most_v - string.leds * led.volts.least - supply.drop_v);
    return string;
}

void judge_resistor_string(const LampString& string, const std::string& part, const Led& led,
                           const StringSupply& supply, Checks& checks) {
    const std::string each = fmt::format("{} in series", string.leds);
    checks.push_back(judged(part, fmt::format("{}: current at {:g} V, at least", each, supply.least_v),
                            string.ma.least, Bound::at_least, 0.1 * led.ma, "mA",
                            "a tenth of led_ma, to be seen: common practice, no source",
                            "fewer LEDs in series"));
    checks.push_back(judged(part, fmt::format("{}: current at {:g} V, at most", each, supply.most_v),
                            string.ma.most, Bound::at_most, 1.5 * led.ma, "mA",
                            "1.5 x led_ma, 30 mA of a 20 mA LED: common practice, no source",
                            "a larger resistor (a smaller led_ma), or a constant-current feed"));
    checks.push_back(
        judged(part, fmt::format("{}: a common resistor of twice the heat exists", each),
               string.resistor_rating_w.has_value(), "common practice, no source",
               fmt::format("{:.1f} W in one resistor: a constant-current or switching feed", string.heat_w)));
}

void judge_current_part(const LampString& string, const std::string& part, const Led& led,
                        const StringSupply& supply, Checks& checks) {
    const std::string each = fmt::format("{} in series", string.leds);
    if (!supply.headroom_v)
        checks.push_back(
            not_judged(part, each + ": constant current holds at " + fmt::format("{:g} V", supply.least_v),
                       "headroom_v in [board], what the part needs above the LEDs"));
    else
        checks.push_back(judged(part, each + ": constant current holds down to",
                                string.leds * led.volts.most + supply.drop_v + *supply.headroom_v,
                                Bound::at_most, supply.least_v, "V", "derived; headroom_v in the file",
                                "fewer LEDs in series; below this they dim"));
    if (!supply.part_w)
        checks.push_back(not_judged(part, each + ": heat in the constant-current part",
                                    fmt::format("current_part_w in [board]; it makes {:.2f} W at {:g} V",
                                                string.heat_w, supply.most_v)));
    else
        checks.push_back(judged(part, each + ": heat in the constant-current part", string.heat_w,
                                Bound::at_most, *supply.part_w, "W", "current_part_w in the file",
                                "more LEDs in series, or a part that carries more heat"));
}

} // namespace

Range led_volts(LampColour colour) {
    constexpr double volts[][2] = {{2.0, 2.2}, {1.8, 2.2}, {2.8, 3.6}}; // amber, red, white
    const auto& row = volts[static_cast<std::size_t>(colour)];
    return {row[0], row[1]};
}

int GroupLoad::string_count() const {
    int count = 0;
    for (const LampString& string : strings)
        count += string.count;
    return count;
}

GroupLoad strings_of(const LampGroup& group, const StringSupply& supply, Checks& checks) {
    GroupLoad load{.name = group.name,
                   .where = group.where,
                   .job = group.plays.job,
                   .side = group.plays.side,
                   .strings = {},
                   .wire = {}};
    const auto led = led_of(group);
    if (!led || !group.in_series || !group.feed) {
        checks.push_back(not_judged(group.name, "strings", missing_of(group) + " in its [[lamps]] table"));
        return load;
    }
    const core::Pattern& pattern = group.plays.pattern;
    if (pattern.fills == core::Pattern::Fills::lamps && !group.plays.all_at_once())
        checks.push_back(
            judged(group.name, "lamps that light one after the other are not in one string",
                   pattern.block % *group.in_series == 0, "derived",
                   fmt::format("in_series = 1, or pattern = \"blocks\" of {}", *group.in_series)));
    const int count = group.plays.count;
    const int full = count / *group.in_series;
    const int rest = count % *group.in_series;
    std::vector<LampString> strings;
    if (full > 0)
        strings.push_back({.leds = *group.in_series,
                           .count = full,
                           .resistor_ohm = {},
                           .resistor_rating_w = {},
                           .ma = {},
                           .falls_over_v = {}});
    if (rest > 0)
        strings.push_back({.leds = rest,
                           .count = 1,
                           .resistor_ohm = {},
                           .resistor_rating_w = {},
                           .ma = {},
                           .falls_over_v = {}});
    const double needed_v = strings.front().leds * led->nominal_v + supply.drop_v;
    const Check lights = judged(
        group.name, fmt::format("{} in series light: they need more than", strings.front().leds), needed_v,
        Bound::at_most, supply.nominal_v, "V", "derived; nominal supply", "fewer LEDs in series");
    if (lights.verdict != CheckVerdict::passed || needed_v >= supply.nominal_v) {
        checks.push_back(lights);
        checks.back().verdict = CheckVerdict::finding;
        return load;
    }
    for (const LampString& kind : strings) {
        const bool resistor = *group.feed == LampFeed::resistor;
        LampString string = resistor ? on_resistor(*led, supply, kind) : on_current_part(*led, supply, kind);
        string.falls_v = kind.leds * led->nominal_v + supply.drop_v;
        string.falls_over_v = {kind.leds * led->volts.least + supply.drop_v,
                               kind.leds * led->volts.most + supply.drop_v};
        (resistor ? judge_resistor_string : judge_current_part)(string, group.name, *led, supply, checks);
        load.nominal_ma += string.count * string.nominal_ma;
        load.most_ma += string.count * string.ma.most;
        load.strings.push_back(string);
    }
    if (group.awg && group.length_m) load.wire = wire_run(*group.awg, *group.length_m, load.most_ma / 1e3);
    return load;
}

double string_ma(const LampString& string, double supply_v, bool most) {
    const double falls_v = most ? string.falls_over_v.least : string.falls_v;
    if (!string.resistor_ohm) return supply_v > falls_v ? string.ma.most : 0;
    const double ohm = *string.resistor_ohm * (most ? 1 - resistor_share : 1);
    return std::max(0.0, supply_v - falls_v) / ohm * 1e3;
}

FieldNames fields_of_strings(const Lamps& lamps, std::size_t i, bool from_regulator) {
    const LampGroup& group = lamps[i];
    FieldNames fields =
        fields_in(fmt::format("lamps.{}", i), {"count", "led_ma", "in_series", "feed", "driver"});
    for (const char* key : {"led_v", "colour"})
        if (*key == 'l' ? group.led_v.has_value() : group.colour.has_value())
            fields.push_back(fmt::format("lamps.{}.{}", i, key));
    fields = fields + fields_in("board", {"switch_drop_v", from_regulator ? "regulator_v" : "reverse"});
    if (group.driver == LampDriver::shift_register) fields.push_back("board.register");
    return fields;
}

std::vector<PinLoad> pins_of(const Lamps& lamps, const std::vector<GroupLoad>& loads) {
    std::vector<PinLoad> pins;
    for (std::size_t i = 0; i < lamps.size(); ++i) {
        const LampGroup& group = lamps[i];
        if (group.pins.empty() || !group.driver || !loads[i].known()) continue;
        std::size_t next = 0;
        for (const LampString& string : loads[i].strings)
            for (int n = 0; n < string.count; ++n) {
                const std::string& name = group.pins[next++ % group.pins.size()];
                auto at =
                    std::find_if(pins.begin(), pins.end(), [&](const PinLoad& p) { return p.pin == name; });
                if (at == pins.end()) at = pins.insert(at, {name, *group.driver});
                ++at->strings;
                at->nominal_ma += string.nominal_ma;
                at->most_ma += string.ma.most;
            }
    }
    return pins;
}

} // namespace winkhold::bike
