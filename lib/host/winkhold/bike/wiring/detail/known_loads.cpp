#include "winkhold/bike/wiring/detail/known_loads.hpp"

#include "winkhold/bike/wiring/detail/judges.hpp"

namespace winkhold::bike {

Loads known_loads(const Electrics& electrics, const SupplySections& supply) {
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
    return loads;
}

} // namespace winkhold::bike
