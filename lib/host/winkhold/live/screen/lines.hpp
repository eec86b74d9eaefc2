/// What a session tells as plain lines, for a pipe.
#pragma once

#include "winkhold/live/session/session.hpp"

#include <string>

namespace winkhold::live {

/// Printed before anything is tuned, and over every screen.
inline constexpr std::string_view live_caution =
    "At standstill only, never while riding. The factory tell-tales stay.";

/// Each ends with a line feed and is at most 80 columns wide: "   12.345 s  taps left brake".
std::string edge_line(const Edge& edge);
/// What the board shows from then on.
std::string indication_line(const IndicationChange& change);
/// Trouble is led by '!'. Goes on in more lines, set in.
std::string notice_lines(const Notice& notice);
/// "left brake", or "none lit".
std::string taps_text(core::Lines lines);
/// What came, what was lost, on both ways: one or two lines.
std::string health_lines(const LiveState& state);

} // namespace winkhold::live
