#include "winkhold/bike/electrics/detail/plausible.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/vehicle/known.hpp"

#include <fmt/format.h>

namespace winkhold::bike {
namespace {

constexpr const char* usual_source = "usual parts: common practice, no source";

class Plausible {
public:
    Plausible(const Vehicle& vehicle, Checks& checks) : vehicle_(vehicle), checks_(checks) {}

    /// 0 is right where it means none.
    void usual(const std::string& field, const std::optional<double>& value, double least, double most,
               const char* unit, bool or_none = false) {
        if (!value || !vehicle_.given(field) || (or_none && *value == 0)) return;
        if (*value >= least && *value <= most) return;
        const bool low = *value < least;
        add(field, *value, low ? Bound::at_least : Bound::at_most, low ? least : most, unit, usual_source,
            fmt::format("usual: {:g} to {:g} {}; look at number and unit", least, most, unit));
    }
    void add(const std::string& field, double value, Bound bound, double limit, const char* unit,
             const char* source, const std::string& advice) {
        const auto place = vehicle_.given(field);
        checks_.push_back(judged(
            "implausible", fmt::format("{} ({}:{})", field_text(field), legible(place->file), place->line),
            value, bound, limit, unit, source, advice));
        fields_.insert(field);
    }
    std::set<std::string> take() { return std::move(fields_); }

private:
    const Vehicle& vehicle_;
    Checks& checks_;
    std::set<std::string> fields_;
};

void look_at(const FrontEnd& f, Plausible& plausible) {
    const auto usual = [&](const char* key, const std::optional<double>& value, double least, double most,
                           const char* unit, bool or_none = false) {
        plausible.usual(std::string("front_end.") + key, value, least, most, unit, or_none);
    };
    usual("top_kohm", f.top_kohm, 1, 2'000, "kohm");
    usual("bottom_kohm", f.bottom_kohm, 0.47, 2'000, "kohm");
    usual("capacitor_nf", f.capacitor_nf, 0.01, 10'000, "nF", true);
    usual("resistor_percent", f.resistor_percent, 0.01, 20, "%", true);
    usual("capacitor_percent", f.capacitor_percent, 0.5, 80, "%", true);
    usual("clamp_ma", f.clamp_ma, 0.1, 10'000, "mA");
    usual("bleeder_ohm", f.bleeder_ohm, 22, 100'000, "ohm");
    usual("pull_up_kohm", f.pull_up_kohm, 0.1, 100, "kohm", true);
    usual("wet_kohm", f.wet_kohm, 0.1, 100'000, "kohm");
    usual("wet_pin_kohm", f.wet_pin_kohm, 1, 1'000'000, "kohm");
    usual("pin_v", f.pin_v, 1.2, 16, "V");
    usual("pin_v_percent", f.pin_v_percent, 0.01, 20, "%", true);
    usual("adc_bits", f.adc_bits, 8, 16, "bits");
    usual("adc_error_lsb", f.adc_error_lsb, 0.1, 50, "LSB", true);
    if (f.sample_us) usual("sample", static_cast<double>(*f.sample_us) / 1e3, 0.001, 50, "ms", true);
}

void look_at(const Board& b, Plausible& plausible) {
    const auto usual = [&](const char* key, const std::optional<double>& value, double least, double most,
                           const char* unit, bool or_none = false) {
        plausible.usual(std::string("board.") + key, value, least, most, unit, or_none);
    };
    usual("board_ma", b.board_ma, 0.1, 5'000, "mA");
    usual("sleep_ma", b.sleep_ma, 0.0001, 200, "mA", true);
    usual("regulator_v", b.regulator_v, 1.2, 15, "V");
    usual("dropout_v", b.dropout_v, 0.01, 5, "V", true);
    usual("efficiency_percent", b.efficiency_percent, 40, 99, "%");
    usual("regulator_most_v", b.regulator_most_v, 5, 200, "V");
    usual("tvs_v", b.tvs_v, 16, 200, "V");
    usual("thermal_c_per_w", b.thermal_c_per_w, 0.5, 500, "C/W");
    usual("ambient_c", b.ambient_c, -40, 105, "C");
    usual("junction_c", b.junction_c, 70, 200, "C");
    usual("least_v", b.least_v, 1, 12, "V");
    usual("bulk_uf", b.bulk_uf, 0.1, 100'000, "uF", true);
    usual("reverse_v", b.reverse_v, 5, 2'000, "V");
    usual("pin_ma", b.pin_ma, 0.5, 500, "mA");
    usual("port_ma", b.port_ma, 1, 2'000, "mA");
    usual("package_ma", b.package_ma, 1, 5'000, "mA");
    usual("transistor_ma", b.transistor_ma, 5, 200'000, "mA");
    usual("register_pin_ma", b.register_pin_ma, 0.5, 2'000, "mA");
    usual("register_package_ma", b.register_package_ma, 1, 10'000, "mA");
    usual("shift_hz", b.shift_hz, 100, 100e6, "Hz");
    usual("pwm_hz", b.pwm_hz, 30, 200'000, "Hz");
    usual("gate_pulldown_kohm", b.gate_pulldown_kohm, 0.1, 10'000, "kohm", true);
    usual("enable_pullup_kohm", b.enable_pullup_kohm, 0.1, 10'000, "kohm", true);
    usual("switch_drop_v", b.switch_drop_v, 0.001, 3, "V", true);
    usual("headroom_v", b.headroom_v, 0.05, 5, "V");
    usual("current_part_w", b.current_part_w, 0.05, 20, "W");
    usual("length_m", b.length_m, 0.02, 10, "m");
}

void look_at(const LampGroup& group, const std::string& table, Plausible& plausible) {
    const auto usual = [&](const char* key, const std::optional<double>& value, double least, double most,
                           const char* unit) {
        plausible.usual(fmt::format("{}.{}", table, key), value, least, most, unit);
    };
    usual("led_ma", group.led_ma, 1, 1'000, "mA");
    usual("led_v", group.led_v, 1.2, 4.5, "V");
    usual("length_m", group.length_m, 0.02, 10, "m");
    if (group.in_series) usual("in_series", *group.in_series, 1, 12, "LEDs");
    if (!group.led_v || !group.colour || *group.led_v < 1.2 || *group.led_v > 4.5) return;
    constexpr double beside_v = 0.5; // LEDs of other currents than 20 mA
    const Range typical_v = led_volts(*group.colour);
    const bool low = *group.led_v < typical_v.least - beside_v;
    if (!low && *group.led_v <= typical_v.most + beside_v) return;
    constexpr std::string_view colours[] = {"amber", "red", "white"};
    plausible.add(table + ".led_v", *group.led_v, low ? Bound::at_least : Bound::at_most,
                  low ? typical_v.least - beside_v : typical_v.most + beside_v, "V",
                  "typical LEDs at 20 mA, 0.5 V beside (common practice)",
                  fmt::format("an LED of {:g} V is hardly {}: look at both", *group.led_v,
                              colours[static_cast<std::size_t>(*group.colour)]));
}

} // namespace

std::set<std::string> judge_plausible(const Vehicle& vehicle, const std::optional<FrontEnd>& front_end,
                                      const SupplySections& supply, const Lamps& lamps, Checks& checks) {
    Plausible plausible(vehicle, checks);
    if (front_end) look_at(*front_end, plausible);
    if (supply.board) look_at(*supply.board, plausible);
    if (supply.battery) plausible.usual("battery.capacity_ah", supply.battery->capacity_ah, 0.5, 200, "Ah");
    if (supply.flasher_load) {
        plausible.usual("flasher_load.least_w", supply.flasher_load->least_w, 0.1, 200, "W", true);
        plausible.usual("flasher_load.kept_w", supply.flasher_load->kept_w, 0.1, 200, "W", true);
    }
    for (std::size_t i = 0; i < lamps.size(); ++i)
        look_at(lamps[i], fmt::format("lamps.{}", i), plausible);
    return plausible.take();
}

} // namespace winkhold::bike
