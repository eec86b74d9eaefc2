/// What a session tells people.
#pragma once

#include "winkhold/live/session/state.hpp"

#include <string>

namespace winkhold::live {

/// Of a line that was sent, as in "store".
std::string_view request_text(char kind);
/// What the board answered to it; empty if there is nothing to say.
Notice answer_notice(char kind, link::Answer says);
Notice hello_notice(const BoardHello& hello, std::optional<bool> same_vehicle);
Notice settings_notice(const core::Settings& settings, link::Origin origin);
Notice fault_notice(TimeUs t_us, core::Side side, core::Fault fault, bool comes);
Notice difference_notice(const Difference& difference);

/// Why a board of another vehicle may not be tuned.
std::string other_vehicle_text();

} // namespace winkhold::live
