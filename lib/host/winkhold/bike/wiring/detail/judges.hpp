/// The checks of a wiring sheet, and what they share.
#pragma once

#include "winkhold/bike/wiring/check.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace winkhold::bike {

/// Without outer blanks, in small letters: how names are compared. "A0 " and "a0" are one pin.
std::string plain_name(std::string_view name);
bool same_name(std::string_view a, std::string_view b);

/// The end that isn't the first one of this kind.
const WireEnd& other_end(const Wire& wire, WireEnd::Kind kind);

/// Joined to the battery's plus, always or with the key on.
inline bool is_live(const Wire& wire) {
    return wire.ends_at(WireEnd::Kind::battery) || wire.ends_at(WireEnd::Kind::switched);
}

/// file:line of a group.
std::string place_of(const LampGroup& group);

// doubles.cpp
void judge_labels(const Wiring& wiring, std::vector<WireFinding>& findings);
void judge_pins(const Wiring& wiring, const Lamps& lamps, std::vector<WireFinding>& findings);
void judge_cavities(const Wiring& wiring, std::vector<WireFinding>& findings);
// loads.cpp
void judge_fuses(WiringSheet& sheet);
void judge_pin_loads(WiringSheet& sheet);
// reach.cpp
void judge_reach(const Lamps& lamps, WiringSheet& sheet);
void judge_kept(WiringSheet& sheet);

} // namespace winkhold::bike
