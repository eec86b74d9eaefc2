/// Judgements of the board: what its pins carry, and what feeds it.
#pragma once

#include "winkhold/bike/electrics/electrics.hpp"

namespace winkhold::bike {

/// Pins, ports, packages; refresh, PWM, dark at reset.
void judge_drivers(const Board& board, const Lamps& lamps, const std::vector<PinLoad>& pins, Checks& checks);

/// Regulator, reverse polarity, crank, supply wire. `from_regulator_ma` goes to lamps behind it, `total_ma`
/// to all.
void judge_board_supply(const Board& board, double from_regulator_ma, double total_ma, Checks& checks);

/// The group's wire and its fuse.
void judge_wire(const LampGroup& group, const GroupLoad& load, Checks& checks);

/// Days until 80 % of the battery is used; none if that is not known.
std::optional<double> standby_days(const Battery& battery, const Board& board);
void judge_battery(const Battery& battery, const Board& board, Checks& checks);

/// `tap_ohm` is what bleeder and divider of a side's tap come to; infinite: none.
void judge_flasher_load(const FlasherLoad& load, double tap_ohm, Checks& checks);

} // namespace winkhold::bike
