/// What the end of a wire is to a net: the board's terminals told apart by how people name them.
#pragma once

#include "winkhold/bike/lamps/lamps.hpp"
#include "winkhold/bike/wiring/wires.hpp"

namespace winkhold::bike {

struct Terminal {
    enum class Role {
        battery,
        switched,
        ground,
        tap,
        pin,
        board_supply, ///< "board plus"
        lamp_feed,    ///< "board lamps plus": the same plus, behind the board's reverse polarity part
        board_ground, ///< "board minus"
        output,       ///< a driver behind a pin: "board D9 transistor", "board SR1.3"
        board_other,  ///< a terminal of the board whose name doesn't say what it is
        lamps,
        splice,      ///< joins all wires that end at it
        closed_part, ///< a relay, a module: what it joins inside isn't known
    };
    Role role{Role::splice};
    std::string text;                          ///< as the file spells it
    std::string name;                          ///< plain: the line, the pin, the pin of an output, the group
    int output{0};                             ///< of a register, counted from 1; 0: not said
    LampDriver driver{LampDriver::transistor}; ///< of an output or a pin
};

/// Outputs are known by their form ("SR1.3", "D9 transistor") or by being a group's pin.
Terminal terminal_of(const WireEnd& end, const Lamps& lamps);

} // namespace winkhold::bike
