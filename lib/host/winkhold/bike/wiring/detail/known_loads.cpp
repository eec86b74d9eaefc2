#include "winkhold/bike/wiring/detail/known_loads.hpp"

#include "winkhold/bike/wiring/detail/judges.hpp"

namespace winkhold::bike {
namespace {

/// The most that one tapped line gives to bleeder and divider. Unit: mA.
std::optional<double> tap_ma(const std::optional<FrontEnd>& front_end) {
    if (!front_end || !front_end->bleeder_ohm || !front_end->top_kohm || !front_end->bottom_kohm) return {};
    const double least = 1 - front_end->resistor_percent / 100;
    const double bleeder_ma =
        *front_end->bleeder_ohm > 0 ? StringSupply{}.most_v / (*front_end->bleeder_ohm * least) * 1e3 : 0;
    return bleeder_ma + StringSupply{}.most_v / ((*front_end->top_kohm + *front_end->bottom_kohm) * least);
}

} // namespace

BoardFacts board_facts(const Vehicle& vehicle, const SupplySections& supply) {
    if (!supply.board) return {};
    BoardFacts facts{.register_kind = supply.board->register_kind,
                     .register_outputs = {},
                     .tap_pins = supply.board->tap_pins,
                     .register_pins = {},
                     .awg = supply.board->awg,
                     .length_m = supply.board->length_m};
    for (const auto& [name, duty] : {std::pair(&Board::register_data, "data"),
                                     {&Board::register_clock, "clock"},
                                     {&Board::register_latch, "latch"},
                                     {&Board::register_enable, "enable"}})
        if (const std::string& pin = *supply.board.*name; !pin.empty())
            facts.register_pins.emplace_back(pin, duty);
    if (vehicle.given("board.register_outputs")) facts.register_outputs = supply.board->register_outputs;
    return facts;
}

Loads known_loads(const Electrics& electrics, const SupplySections& supply,
                  const std::optional<FrontEnd>& front_end) {
    Loads loads;
    if (supply.board) {
        loads.pin_limit_ma = supply.board->pin_ma;
        loads.port_limit_ma = supply.board->port_ma;
        loads.package_limit_ma = supply.board->package_ma;
        loads.feed_ma = supply.board->board_ma;
    }
    for (const GroupLoad& group : electrics.groups) {
        if (group.known()) loads.group_ma[group.name] = group.most_ma;
        if (!group.known())
            loads.feed_ma.reset();
        else if (loads.feed_ma)
            *loads.feed_ma += group.most_ma;
    }
    for (const PinLoad& pin : electrics.pins)
        if (pin.driver == LampDriver::pin && pin.most_ma > 0) loads.pin_ma[plain_name(pin.pin)] = pin.most_ma;
    loads.tap_ma = tap_ma(front_end);
    return loads;
}

} // namespace winkhold::bike
