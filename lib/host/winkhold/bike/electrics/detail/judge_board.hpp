/// Judgements of the board: what its pins carry, and what feeds it.
#pragma once

#include "winkhold/bike/electrics/electrics.hpp"

namespace winkhold::bike {

/// Pins, ports, packages; refresh, PWM, dark at reset.
void judge_drivers(const Board& board, const Lamps& lamps, const std::vector<PinLoad>& pins, Checks& checks);

/// Regulator, reverse polarity, crank, supply wire.
void judge_board_supply(const Board& board, const Lamps& lamps, const std::vector<GroupLoad>& groups,
                        Checks& checks);

/// So long the bulk capacitor carries the board and, if they hang on it, all lamps that 12 V feeds, from 9 V
/// on until the board's supply is down to least_v: C times the integral of dV / I(V). `worst`: the lamps with
/// the parts that let most through. Takes regulator_v, dropout_v, least_v and board_ma. Unit: ms.
double hold_up_ms(const Board& board, const Lamps& lamps, const std::vector<GroupLoad>& groups, bool worst);

/// The group's wire and its fuse.
void judge_wire(const LampGroup& group, const GroupLoad& load, Checks& checks);

/// Days until 80 % of the battery is used, by the board and by itself; none if that is not known.
std::optional<double> standby_days(const Battery& battery, const Board& board);
void judge_battery(const Battery& battery, const Board& board, Checks& checks);

/// `tap_ohm` is what bleeder and divider of a side's tap come to; infinite: none.
void judge_flasher_load(const FlasherLoad& load, double tap_ohm, Checks& checks);

} // namespace winkhold::bike
