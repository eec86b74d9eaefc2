#include "winkhold/measure/front_end/front_end.hpp"

#include "winkhold/base/vehicle/detail/vehicle_files.hpp"

#include "winkhold/measure/front_end/detail/front_end_section.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::measure {
namespace {

constexpr std::array parts{
    InputPart{"ATmega328P",
              InputKind::logic,
              {0.3, 0.6},
              {0.3, 0.6},
              false,
              0,
              "ATmega328P data sheet: VIL 0.3, VIH 0.6 of its supply (read)"},
    InputPart{"74HC1G14",
              InputKind::schmitt,
              {1.7 / 4.5, 3.15 / 4.5},
              {0.9 / 4.5, 2.0 / 4.5},
              true,
              4.5,
              "74HC1G14 data sheet: VT+ 1.7-3.15 V, VT- 0.9-2.0 V at 4.5 V (read)"},
};

Range times(const Range& share, const Range& volts) {
    return {share.least * volts.least, share.most * volts.most};
}

/// Where an ADC's reading passes what the firmware compares with, which is reckoned with nominal parts.
Range adc_threshold(const FrontEnd& front_end, double line_v, double gain, const Range& pin_v) {
    const double nominal_v = line_v * gain;
    const double error_v = front_end.adc_error_lsb * pin_v.most / std::exp2(front_end.adc_bits);
    return {nominal_v * pin_v.least / *front_end.pin_v - error_v,
            nominal_v * pin_v.most / *front_end.pin_v + error_v};
}

} // namespace

const InputPart* input_part(std::string_view name) {
    for (const InputPart& part : parts)
        if (part.name == name) return &part;
    return nullptr;
}

std::optional<InputNetwork> FrontEnd::nominal() const {
    const auto limits = thresholds();
    const auto clamped_v = clamp_volts();
    if (!top_kohm || !bottom_kohm || !capacitor_nf || !limits || !clamped_v) return {};
    const auto middle = [](const Range& range) { return (range.least + range.most) / 2; };
    return InputNetwork{*top_kohm * 1e3,    *bottom_kohm * 1e3,     *capacitor_nf * 1e-9,
                        middle(*clamped_v), middle(limits->rise_v), middle(limits->fall_v)};
}

std::optional<Range> FrontEnd::pin_volts() const {
    if (!pin_v) return {};
    return Range{*pin_v * (1 - pin_v_percent / 100), *pin_v * (1 + pin_v_percent / 100)};
}

std::optional<Thresholds> FrontEnd::thresholds() const {
    if (!input) return {};
    const auto pin = pin_volts();
    if (*input == InputKind::adc) {
        if (!pin || !top_kohm || !bottom_kohm) return {};
        const double gain = *bottom_kohm / (*top_kohm + *bottom_kohm);
        return Thresholds{adc_threshold(*this, on_above_v, gain, *pin),
                          adc_threshold(*this, off_below_v, gain, *pin),
                          fmt::format("the file's {:g} and {:g} V of the line, {:g} % of reference, {:g} LSB",
                                      on_above_v, off_below_v, pin_v_percent, adc_error_lsb)};
    }
    if (rise_v && fall_v) return Thresholds{*rise_v, *fall_v, "thresholds given in the file"};
    const InputPart* sheet = input_part(part);
    if (sheet == nullptr || !pin) return {};
    std::string source(sheet->source);
    if (sheet->sheet_v > 0 && sheet->sheet_v != *pin_v)
        source += fmt::format(", scaled to {:g} V (derived)", *pin_v);
    return Thresholds{times(sheet->rise_share, *pin), times(sheet->fall_share, *pin), source};
}

std::optional<bool> FrontEnd::pin_inverts() const {
    if (input != InputKind::schmitt) return input ? std::optional(false) : std::nullopt;
    if (inverts) return inverts;
    const InputPart* sheet = input_part(part);
    return sheet != nullptr ? std::optional(sheet->inverts) : std::nullopt;
}

std::optional<Range> FrontEnd::clamp_volts() const {
    if (!clamp) return {};
    if (*clamp == ClampKind::none) return Range{std::numeric_limits<double>::infinity()};
    if (*clamp == ClampKind::zener) return zener_v;
    const auto pin = pin_volts();
    if (!pin) return {};
    // forward voltages at small currents (common practice, no source)
    const Range drop_v = *clamp == ClampKind::schottky ? Range{0.2, 0.45} : Range{0.4, 0.8};
    return Range{pin->least + drop_v.least, pin->most + drop_v.most};
}

std::string_view name(TappedLine line) {
    constexpr std::string_view names[] = {"left", "right", "brake", "second brake", "tail", "supply"};
    return names[static_cast<std::size_t>(line)];
}

double FrontEnd::LetGo::ohm() const {
    const double siemens = bleeder_siemens + pull_up_siemens;
    return siemens > 0 ? 1 / siemens : std::numeric_limits<double>::infinity();
}

double FrontEnd::LetGo::volts(double supply_v) const {
    return pull_up_siemens > 0 ? pull_up_siemens * supply_v * ohm() : 0;
}

FrontEnd::LetGo FrontEnd::let_go(TappedLine line) const {
    const bool turns = line == TappedLine::left || line == TappedLine::right;
    return {bleeder_ohm ? 1 / *bleeder_ohm : 0,
            turns && pull_up_kohm && *pull_up_kohm > 0 ? 1 / (*pull_up_kohm * 1e3) : 0};
}

void read_front_end(TomlFields& fields, FrontEnd& front_end) {
    front_end.where = fields.where("", fields.table());
    fields.number("top_kohm", 0.001, 100'000, front_end.top_kohm);
    fields.number("bottom_kohm", 0.001, 100'000, front_end.bottom_kohm);
    fields.number("capacitor_nf", 0, 1'000'000, front_end.capacitor_nf);
    fields.number("resistor_percent", 0, 50, front_end.resistor_percent);
    fields.number("capacitor_percent", 0, 90, front_end.capacitor_percent);
    fields.choice("clamp", {"none", "pin-diodes", "schottky", "zener"}, front_end.clamp);
    fields.range("zener_v", 0.1, 100, front_end.zener_v);
    fields.number("clamp_ma", 0.001, 100'000, front_end.clamp_ma);
    fields.number("bleeder_ohm", 1, 10'000'000, front_end.bleeder_ohm);
    fields.number("pull_up_kohm", 0, 100'000, front_end.pull_up_kohm);
    fields.number("wet_kohm", 0.001, 1'000'000, front_end.wet_kohm);
    fields.number("wet_pin_kohm", 0.001, 1'000'000, front_end.wet_pin_kohm);
    fields.number("pin_v", 0.5, 30, front_end.pin_v);
    fields.number("pin_v_percent", 0, 50, front_end.pin_v_percent);
    fields.choice("input", {"adc", "schmitt", "logic"}, front_end.input);
    fields.text("part", front_end.part);
    fields.range("rise_v", 0.01, 60, front_end.rise_v);
    fields.range("fall_v", 0.01, 60, front_end.fall_v);
    if (fields.has("inverts")) fields.flag("inverts", front_end.inverts.emplace());
    fields.number("on_above", 0.1, 60, front_end.on_above_v);
    fields.number("off_below", 0.1, 60, front_end.off_below_v);
    fields.number("adc_bits", 6, 24, front_end.adc_bits);
    fields.number("adc_error_lsb", 0, 100, front_end.adc_error_lsb);
    if (fields.has("sample")) fields.duration("sample", 1'000'000, front_end.sample_us.emplace());
    fields.flag("second_brake", front_end.second_brake);
    for (const TappedLine line : tapped_lines) {
        std::string key = fmt::format("active_{}", name(line));
        std::replace(key.begin(), key.end(), ' ', '_');
        // a supply that is up is high, whatever it feeds
        const int level =
            line == TappedLine::supply ? fields.choice(key, {"high"}) : fields.choice(key, {"high", "low"});
        if (level >= 0) front_end.active_low[static_cast<std::size_t>(line)] = level == 1;
    }
    if (front_end.inverts && front_end.input != InputKind::schmitt)
        fields.refuse("inverts", *fields.node("inverts"), "only with input = \"schmitt\"");
    if (front_end.off_below_v > front_end.on_above_v)
        fields.refuse("off_below", fields.table(), "must not be above on_above");
    if (!front_end.part.empty() && input_part(front_end.part) == nullptr)
        fields.refuse("part", fields.table(),
                      "no data sheet at hand; known: ATmega328P, 74HC1G14. Give rise_v and fall_v instead");
}

std::optional<FrontEnd> front_end_of(const Vehicle& vehicle) {
    std::optional<FrontEnd> front_end;
    for_section(vehicle, "front_end", [&](TomlFields& fields) {
        if (says_anything(fields.table()))
            read_front_end(fields, front_end ? *front_end : front_end.emplace());
    });
    return front_end;
}

} // namespace winkhold::measure
