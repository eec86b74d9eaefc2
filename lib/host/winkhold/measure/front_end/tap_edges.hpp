/// How late a tap reads what its line does, with every part anywhere within its tolerance.
#pragma once

#include "winkhold/measure/front_end/front_end.hpp"

#include <vector>

namespace winkhold::measure {

/// A channel with its parts as they may be, and what holds its line when the switch lets it go.
struct Corner {
    InputNetwork parts;
    FrontEnd::LetGo let_go;
};

/// Every part at the ends of its tolerance; bleeder and load sense have that of the resistors. Delays go one
/// way with each part, but for a resistor of the divider, which moves gain and time constant against each
/// other: its middle is there, too. Takes a front end whose nominal() is known.
std::vector<Corner> corners(const FrontEnd& front_end, TappedLine line);

/// At one voltage of the line. Times in us, from the step of the line; infinite: never.
struct EdgeFigures {
    double line_v{0};
    double margin_v{0}; ///< high pin above its threshold, at least; in volts of the line
    /// From 0 V, where a lamp holds the line, or from where the load sense lifts a line that nothing holds.
    Range rise_us;
    Range fall_us;          ///< the line is held to ground, or let go
    Range width_us;         ///< fall delay less rise delay of one channel: so much longer a flash is read
    double rise_skew_us{0}; ///< between two channels, at most
    double fall_skew_us{0};

    /// From the switch until the tap reads lit.
    const Range& lit_us(bool active_low) const { return active_low ? fall_us : rise_us; }
    /// And until it reads dark.
    const Range& dark_us(bool active_low) const { return active_low ? rise_us : fall_us; }
};

/// Of this line. One that is active low is pulled up by its lamp and held to ground by its switch.
EdgeFigures edges_at(double line_v, const FrontEnd& front_end, TappedLine line);

/// From the switch until the tap reads lit, on a line of 9 to 16 V; none if the parts are not known.
std::optional<Range> lit_after_us(const FrontEnd& front_end, TappedLine line);

/// The fields of [front_end] that a level at the pin rests on, as Vehicle::given() names them.
std::vector<std::string> fields_of_levels(const FrontEnd& front_end);
/// And those that the edges rest on.
std::vector<std::string> fields_of_edges(const FrontEnd& front_end, TappedLine line);

} // namespace winkhold::measure
