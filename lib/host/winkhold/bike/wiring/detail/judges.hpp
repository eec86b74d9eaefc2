/// The checks of a wiring sheet, and what they share.
#pragma once

#include "winkhold/bike/electrics/wire.hpp"
#include "winkhold/bike/wiring/check.hpp"
#include "winkhold/bike/wiring/detail/lamp_ends.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace winkhold::bike {

/// Without outer blanks, in small letters: how names are compared. "A0 " and "a0" are one pin.
std::string plain_name(std::string_view name);
bool same_name(std::string_view a, std::string_view b);
/// The words of a text, split at blanks.
std::vector<std::string> words_of(std::string_view text);

/// The end that isn't the first one of this kind.
const WireEnd& other_end(const Wire& wire, WireEnd::Kind kind);

/// Joined to the battery's plus, always or with the key on.
inline bool is_live(const Wire& wire) {
    return wire.ends_at(WireEnd::Kind::battery) || wire.ends_at(WireEnd::Kind::switched);
}

/// file:line of a group.
std::string place_of(const LampGroup& group);

/// What all judges look at.
struct WiringCase {
    const Lamps& lamps;
    const BoardFacts& board;
    const Nets& nets;
    const LampEnds& ends;
};

// doubles.cpp
void judge_labels(const Wiring& wiring, std::vector<WireFinding>& findings);
void judge_pins(const Wiring& wiring, const Lamps& lamps, std::vector<WireFinding>& findings);
void judge_cavities(const Wiring& wiring, std::vector<WireFinding>& findings);
// chip_duties.cpp
void judge_chip_duties(const WiringCase& on, WiringSheet& sheet);
// rails.cpp
void judge_rails(const WiringCase& on, WiringSheet& sheet);
// supply_reach.cpp
void judge_supply_and_taps(const WiringCase& on, WiringSheet& sheet);
// unfollowed.cpp
void tell_unfollowed(const WiringCase& on, WiringSheet& sheet);
// lamp_reach.cpp
void judge_lamp_reach(const WiringCase& on, WiringSheet& sheet);
// lamp_outputs.cpp
void judge_lamp_outputs(const WiringCase& on, WiringSheet& sheet);
// loads.cpp
/// What wires carry for good in a harness of many loaded ones, as a share of one in free air: common
/// practice.
inline constexpr double bundle_share = 0.5;
/// What a wire of this gauge carries where it lies. Unit: A.
double ampacity_a(const Wire& wire, const Gauge& gauge);
/// The wires that all the board's current returns by: those at ground that come from its minus, by splices or
/// not.
std::vector<std::size_t> ground_wires(const Nets& nets, const Wiring& wiring);
void compute_loads(const WiringCase& on, WiringSheet& sheet);
void judge_fuses(const WiringCase& on, WiringSheet& sheet);
void judge_pin_loads(WiringSheet& sheet);
// figures.cpp
void judge_figures(const WiringCase& on, WiringSheet& sheet);
void judge_ground(const WiringCase& on, WiringSheet& sheet);
// names.cpp
void judge_names(const WiringCase& on, WiringSheet& sheet);
// kept.cpp
void judge_kept(WiringSheet& sheet);

} // namespace winkhold::bike
