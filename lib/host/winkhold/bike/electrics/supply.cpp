#include "winkhold/bike/electrics/supply.hpp"

#include "winkhold/base/vehicle/detail/vehicle_files.hpp"
#include "winkhold/bike/electrics/detail/supply_sections.hpp"

namespace winkhold::bike {
namespace {

void read_board(TomlFields& f, Board& b) {
    f.number("board_ma", 0, 100'000, b.board_ma);
    f.number("sleep_ma", 0, 100'000, b.sleep_ma);
    f.choice("regulator", {"linear", "switching"}, b.regulator);
    f.number("regulator_v", 0.5, 30, b.regulator_v);
    f.number("dropout_v", 0, 10, b.dropout_v);
    f.number("efficiency_percent", 1, 100, b.efficiency_percent);
    f.number("regulator_most_v", 1, 1'000, b.regulator_most_v);
    f.number("tvs_v", 1, 1'000, b.tvs_v);
    f.number("thermal_c_per_w", 0, 1'000, b.thermal_c_per_w);
    f.number("ambient_c", -60, 200, b.ambient_c);
    f.number("junction_c", 0, 250, b.junction_c);
    f.number("least_v", 0.5, 30, b.least_v);
    f.number("bulk_uf", 0, 1'000'000, b.bulk_uf);
    std::optional<BulkFeeds> bulk_feeds;
    f.choice("bulk_feeds", {"all", "board"}, bulk_feeds);
    b.bulk_feeds = bulk_feeds.value_or(b.bulk_feeds);
    f.choice("reverse", {"none", "diode", "schottky", "p-mosfet"}, b.reverse);
    f.number("reverse_v", 0, 10'000, b.reverse_v);
    f.number("pin_ma", 0, 100'000, b.pin_ma);
    f.number("port_ma", 0, 100'000, b.port_ma);
    f.number("package_ma", 0, 100'000, b.package_ma);
    f.number("transistor_ma", 0, 1'000'000, b.transistor_ma);
    f.choice("register", {"logic", "power"}, b.register_kind);
    f.number("register_pin_ma", 0, 100'000, b.register_pin_ma);
    f.number("register_package_ma", 0, 100'000, b.register_package_ma);
    f.whole("register_outputs", 1, 256, b.register_outputs);
    f.number("shift_hz", 1, 1e9, b.shift_hz);
    f.number("pwm_hz", 1, 10e6, b.pwm_hz);
    f.number("gate_pulldown_kohm", 0, 100'000, b.gate_pulldown_kohm);
    f.number("enable_pullup_kohm", 0, 100'000, b.enable_pullup_kohm);
    f.number("switch_drop_v", 0, 10, b.switch_drop_v);
    f.number("headroom_v", 0, 30, b.headroom_v);
    f.number("current_part_w", 0, 1'000, b.current_part_w);
    f.whole("awg", 0, 40, b.awg);
    f.number("length_m", 0, 100, b.length_m);
    f.texts("tap_pins", b.tap_pins);
    f.text("register_data", b.register_data);
    f.text("register_clock", b.register_clock);
    f.text("register_latch", b.register_latch);
    f.text("register_enable", b.register_enable);
}

/// `section`, made if a file has it.
template <class Section, class Read>
void in(const Vehicle& vehicle, const char* name, std::optional<Section>& section, Read&& read) {
    for_section(vehicle, name, [&](TomlFields& f) { read(f, section ? *section : section.emplace()); });
}

} // namespace

SupplySections supply_sections_of(const Vehicle& vehicle) {
    SupplySections sections;
    in(vehicle, "board", sections.board, read_board);
    in(vehicle, "battery", sections.battery, [](TomlFields& f, Battery& battery) {
        f.number("capacity_ah", 0.01, 10'000, battery.capacity_ah);
        f.number("parked_days", 0, 10'000, battery.parked_days);
        f.choice("chemistry", {"lead", "lithium"}, battery.chemistry);
    });
    in(vehicle, "flasher_load", sections.flasher_load, [](TomlFields& f, FlasherLoad& load) {
        f.number("least_w", 0, 1'000, load.least_w);
        f.number("kept_w", 0, 1'000, load.kept_w);
    });
    return sections;
}

double Board::reverse_drop_v() const {
    if (reverse == ReversePart::diode) return 0.8;
    return reverse == ReversePart::schottky ? 0.4 : 0;
}

double Board::input_drop_v() const {
    constexpr double schottky_v = 0.4; // common practice, no source
    return reverse_drop_v() + (bulk_feeds == BulkFeeds::board ? schottky_v : 0);
}

double Board::input_ma(double load_ma, double input_v) const {
    if (regulator != Regulator::switching || !efficiency_percent || !regulator_v || input_v <= 0)
        return load_ma;
    return load_ma * *regulator_v / (*efficiency_percent / 100 * input_v);
}

double Battery::self_discharge_percent_per_month() const {
    return chemistry == Chemistry::lithium ? 3 : 10;
}

bool Board::from_regulator(LampDriver driver) const {
    return driver == LampDriver::pin ||
           (driver == LampDriver::shift_register && register_kind == RegisterKind::logic);
}

std::optional<StringSupply> Board::feeds(LampDriver driver) const {
    if (driver == LampDriver::shift_register && !register_kind) return {};
    StringSupply supply;
    supply.headroom_v = headroom_v;
    supply.part_w = current_part_w;
    supply.drop_v = switch_drop_v;
    if (!from_regulator(driver)) {
        supply.drop_v += reverse_drop_v();
        return supply;
    }
    if (!regulator_v) return {};
    constexpr double regulated_to = 0.05; // common practice, no source
    supply.least_v = *regulator_v * (1 - regulated_to);
    supply.nominal_v = *regulator_v;
    supply.most_v = *regulator_v * (1 + regulated_to);
    return supply;
}

} // namespace winkhold::bike
