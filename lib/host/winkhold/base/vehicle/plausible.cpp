#include "winkhold/base/vehicle/plausible.hpp"

#include "winkhold/base/vehicle/detail/vehicle_files.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace winkhold::base {
namespace {

constexpr Usual table[] = {
    {"flasher", "rate_per_min", 30, 300, "/min"},
    {"flasher", "duty_percent", 15, 90, "%"},
    {"flasher", "jitter_percent", 0, 25, "%"},
    {"flasher", "cycle", 20, 3'000, "ms"},
    {"flasher", "start_delay", 0, 2'000, "ms"},
    {"flasher", "first_on_extra", 0, 2'000, "ms"},
    {"flasher", "first_dark", 0, 2'000, "ms"},
    {"lines", "bounce", 0, 30, "ms"},
    {"lines", "bounce_pulses", 0, 12, "pulses"},
    {"lines", "rise_skew", -200, 200, "ms"},
    {"lines", "fall_skew", -200, 200, "ms"},
    {"volts", "supply", 5, 17, "V"},
    {"volts", "filter_tau", 0, 50, "ms"},
    {"volts", "on_above", 0.5, 12, "V"},
    {"volts", "off_below", 0.3, 12, "V"},
    {"sequence", "rate_per_min", 40, 200, "/min"},
    {"sequence", "duty_percent", 20, 80, "%"},
    {"sequence", "on_prior", 100, 1'500, "ms"},
    {"lamps", "count", 1, 200, ""},
    {"lamps", "brightness", 5, 255, ""},
    {"lamps", "dimmed", 2, 255, "", true},
    {"lamps", "step", 1, 1'000, "ms"},
    {"lamps", "stay", 10, 3'000, "ms", true},
    {"lamps", "blank", 10, 3'000, "ms", true},
    {"lamps", "led_v", 1.2, 4.5, "V"},
    {"lamps", "led_ma", 1, 1'000, "mA"},
    {"lamps", "in_series", 1, 12, "LEDs"},
    {"lamps", "awg", 10, 30, "AWG"},
    {"lamps", "length_m", 0.02, 10, "m"},
    {"lamps", "gap_mm", 0.1, 300, "mm", true},
    {"lamps", "width_mm", 3, 1'000, "mm"},
    {"lamps", "height_mm", 2, 500, "mm"},
    {"lamps", "across_mm", 80, 1'500, "mm"},
    {"lamps", "headlamp_mm", 2, 800, "mm", true},
    {"lamps", "stop_lamp_mm", 2, 800, "mm", true},
    {"lamps", "low_edge_mm", 150, 1'800, "mm"},
    {"lamps", "high_edge_mm", 150, 1'900, "mm"},
    {"lamps", "ahead_of_rear_mm", 2, 1'500, "mm", true},
    {"front_end", "top_kohm", 1, 2'000, "kohm"},
    {"front_end", "bottom_kohm", 0.47, 2'000, "kohm"},
    {"front_end", "capacitor_nf", 0.01, 10'000, "nF", true},
    {"front_end", "resistor_percent", 0.01, 20, "%", true},
    {"front_end", "capacitor_percent", 0.5, 80, "%", true},
    {"front_end", "zener_v", 1.8, 30, "V"},
    {"front_end", "clamp_ma", 0.1, 10'000, "mA"},
    {"front_end", "bleeder_ohm", 22, 100'000, "ohm"},
    {"front_end", "pull_up_kohm", 0.1, 100, "kohm", true},
    {"front_end", "wet_kohm", 0.1, 100'000, "kohm"},
    {"front_end", "wet_pin_kohm", 1, 1'000'000, "kohm"},
    {"front_end", "pin_v", 1.2, 16, "V"},
    {"front_end", "pin_v_percent", 0.01, 20, "%", true},
    {"front_end", "rise_v", 0.3, 15, "V"},
    {"front_end", "fall_v", 0.1, 15, "V"},
    {"front_end", "on_above", 0.5, 12, "V"},
    {"front_end", "off_below", 0.3, 12, "V"},
    {"front_end", "adc_bits", 8, 16, "bits"},
    {"front_end", "adc_error_lsb", 0.1, 50, "LSB", true},
    {"front_end", "sample", 0.001, 50, "ms", true},
    {"board", "board_ma", 0.1, 5'000, "mA"},
    {"board", "sleep_ma", 0.0001, 200, "mA", true},
    {"board", "regulator_v", 1.2, 15, "V"},
    {"board", "dropout_v", 0.01, 5, "V", true},
    {"board", "efficiency_percent", 40, 99, "%"},
    {"board", "regulator_most_v", 5, 200, "V"},
    {"board", "tvs_v", 16, 200, "V"},
    {"board", "thermal_c_per_w", 0.5, 500, "C/W"},
    {"board", "ambient_c", -40, 105, "C"},
    {"board", "junction_c", 70, 200, "C"},
    {"board", "least_v", 1, 12, "V"},
    {"board", "bulk_uf", 0.1, 100'000, "uF", true},
    {"board", "reverse_v", 5, 2'000, "V"},
    {"board", "pin_ma", 0.5, 500, "mA"},
    {"board", "port_ma", 1, 2'000, "mA"},
    {"board", "package_ma", 1, 5'000, "mA"},
    {"board", "transistor_ma", 5, 200'000, "mA"},
    {"board", "register_pin_ma", 0.5, 2'000, "mA"},
    {"board", "register_package_ma", 1, 10'000, "mA"},
    {"board", "register_outputs", 4, 32, "outputs"},
    {"board", "shift_hz", 100, 100e6, "Hz"},
    {"board", "pwm_hz", 30, 200'000, "Hz"},
    {"board", "gate_pulldown_kohm", 0.1, 10'000, "kohm", true},
    {"board", "enable_pullup_kohm", 0.1, 10'000, "kohm", true},
    {"board", "switch_drop_v", 0.001, 3, "V", true},
    {"board", "headroom_v", 0.05, 5, "V"},
    {"board", "current_part_w", 0.05, 20, "W"},
    {"board", "awg", 10, 30, "AWG"},
    {"board", "length_m", 0.02, 10, "m"},
    {"battery", "capacity_ah", 0.5, 200, "Ah"},
    {"battery", "parked_days", 1, 400, "days", true},
    {"flasher_load", "least_w", 0.1, 200, "W", true},
    {"flasher_load", "kept_w", 0.1, 200, "W", true},
    {"wires", "awg", 8, 30, "AWG"},
    {"wires", "length_m", 0.02, 5, "m"},
    {"wires", "fuse_a", 0.1, 40, "A"},
    {"wires", "current_ma", 0.1, 40'000, "mA"},
};

std::optional<double> number_in(const toml::node& node, const Usual& usual) {
    if (usual.unit != "ms") return node.value<double>();
    const std::optional<std::string> text = node.value<std::string>();
    if (!text) return {};
    try {
        const bool below_zero = text->starts_with('-');
        const TimeUs us = parse_duration_us(std::string_view(*text).substr(below_zero ? 1 : 0), usual.key);
        return static_cast<double>(below_zero ? -us : us) / 1e3;
    } catch (const InputError&) {
        return {}; // its reader says why
    }
}

/// How far outside of the usual, as a factor of sorts; 0: within.
double beyond(double value, const Usual& usual) {
    if (usual.or_none && value == 0) return 0;
    return std::max({0.0, usual.least - value, value - usual.most});
}

std::optional<double> worst_in(const toml::node& node, const Usual& usual) {
    std::optional<double> worst;
    const auto look = [&](const toml::node& one) {
        const std::optional<double> value = number_in(one, usual);
        if (value && beyond(*value, usual) > (worst ? beyond(*worst, usual) : 0)) worst = value;
    };
    if (const toml::array* list = node.as_array())
        for (const toml::node& one : *list)
            look(one);
    else
        look(node);
    return worst;
}

std::optional<Implausible> judged(const Vehicle& vehicle, const std::string& field, const Usual& usual) {
    const FieldNode found = field_node(vehicle, field);
    if (found.node == nullptr) return {};
    const std::optional<double> value = worst_in(*found.node, usual);
    if (!value) return {};
    return Implausible{field, *vehicle.given(field), usual, *value};
}

} // namespace

std::span<const Usual> usual_values() {
    return table;
}

std::optional<Implausible> implausible(const Vehicle& vehicle, const std::string& field) {
    const std::string_view section = std::string_view(field).substr(0, field.find('.'));
    const std::string_view key = std::string_view(field).substr(field.rfind('.') + 1);
    for (const Usual& usual : table)
        if (usual.section == section && usual.key == key) return judged(vehicle, field, usual);
    return {};
}

std::vector<Implausible> implausible_fields(const Vehicle& vehicle) {
    std::vector<Implausible> all;
    const auto add = [&](const std::string& field, const Usual& usual) {
        if (std::optional<Implausible> one = judged(vehicle, field, usual)) all.push_back(std::move(*one));
    };
    for (const Usual& usual : table) {
        const FieldNode section = field_node(vehicle, usual.section);
        if (section.node == nullptr) continue;
        const toml::array* const list = section.node->as_array();
        if (list == nullptr) add(fmt::format("{}.{}", usual.section, usual.key), usual);
        for (std::size_t i = 0; list != nullptr && i < list->size(); ++i)
            add(fmt::format("{}.{}.{}", usual.section, i, usual.key), usual);
    }
    return all;
}

std::string advice_on(const Implausible& one) {
    return fmt::format("usual: {:g} to {:g}{}{}; look at number and unit", one.usual.least, one.usual.most,
                       one.usual.unit.empty() ? "" : " ", one.usual.unit);
}

} // namespace winkhold::base
