/// Something short that befalls the taps in some flashes: a contact breaks in the light, a stray pulse comes
/// in the dark. A scenario has any number of them, and they add up.
#pragma once

#include "winkhold/base/range.hpp"

#include <optional>

namespace winkhold::measure {

/// What befalls the taps, how often and for how long; all draws come from the ride's stream.
struct Disturbance {
    /// Whether a light breaks or the dark is broken.
    enum class What {
        breaks, ///< reads dark for a while in the light: a contact breaks, the supply dips
        stray   ///< reads lit for a while in the dark between two flashes of one request: a stray pulse
    };
    /// Which taps it befalls.
    enum class Taps {
        own,    ///< of the side that flashes; of a hazard's two, either, drawn each flash
        other,  ///< of the other side; never in a hazard
        both,   ///< all that flash, at the same moment
        one_bad ///< own, yet of a hazard's two always the same, drawn each ride
    };
    /// In which flashes it may come.
    enum class Flashes {
        all,
        first, ///< of each request
        hazard ///< only in hazards
    };

    What what{What::breaks};
    Taps taps{Taps::own};
    Flashes flashes{Flashes::all};
    Range percent{100}; ///< share of those flashes; drawn each ride
    Range for_us{0};    ///< how long, each time; in the light at most 60 % of it, unless `after_us` is given
    /// From the flash's rise (breaks) or fall (stray); not given: anywhere that leaves room. With it, a
    /// break may last until the light ends, a pulse must end 5 ms before the next flash.
    std::optional<Range> after_us{};
    int times{1}; ///< as many in one flash
    /// Above 0: for that long the contact vibrates at this rate, drawn each time, until the light ends.
    Range hz{0};
    Range open_percent{50}; ///< share of each of those periods that it is open; drawn each time
};

} // namespace winkhold::measure
