/// What each wire of a group of lamps brings it: plus, ground, or the output that switches it.
#pragma once

#include "winkhold/bike/wiring/detail/nets.hpp"

namespace winkhold::bike {

/// One wire at a group of lamps.
struct LampWire {
    std::size_t wire; ///< its place in Wiring::wires
    const Nets::Net* net;
};

/// All wires of one group.
struct GroupWires {
    const LampGroup* group{nullptr};
    std::vector<LampWire> wires{};

    /// The wires whose net has it: `Nets::Net::plus`, `ground` or `tap`.
    std::vector<std::size_t> bringing(bool Nets::Net::*what) const;
    std::vector<std::size_t> open() const;
    /// Each once.
    std::vector<const Terminal*> outputs() const;
    /// Of LEDs; lamps, if in_series is not known.
    int strings() const;
};

/// In the order of [[lamps]].
using LampEnds = std::vector<GroupWires>;

/// It points into `lamps` and `nets`.
LampEnds lamp_ends_of(const Wiring& wiring, const Lamps& lamps, const Nets& nets);

} // namespace winkhold::bike
