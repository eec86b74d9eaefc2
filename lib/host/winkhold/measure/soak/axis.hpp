/// What makes lines imperfect in a soak: the kinds that `data/families` has in set forms, drawn at random.
#pragma once

#include "winkhold/base/wings.hpp"

#include <array>
#include <cstddef>
#include <string_view>

namespace winkhold::measure {

/// Each drawn uniformly within the range given.
enum class SoakAxis {
    breaks,        ///< a contact opens for 6-150 ms in 2-50 % of flashes
    dips,          ///< the supply dips for 5-100 ms in 2-50 % of flashes
    vibration,     ///< a contact vibrates at 8-25 Hz for 150-800 ms in 2-50 % of flashes
    strikes_twice, ///< the relay springs back 8-25 ms after it struck, in 2-50 % of flashes
    strays,        ///< a side reads lit for 6-40 ms in the dark, in 2-50 % of flashes
    half_hazard,   ///< one side of a hazard goes dark for the rest of a flash, in 2-50 % of flashes
    second_rhythm, ///< 0.5-3 times the rate, but 200-1200 ms; when and for how long: one of six ways
    groups,        ///< 3-7 flashes, then a gap of 500-800 ms
    drift,         ///< the flasher slows by 10-40 % a minute
    missing,       ///< 1-5 % of flashes stay dark
    fumble,        ///< in 10-80 % of requests a first press of 20-200 ms, let go 50-500 ms before the light
    touch,         ///< after 10-80 % of turns a light of 6-60 ms on either side, 60-700 ms after the cancel
    hum,           ///< a tap comes off for 2-20 s and picks up 50 Hz
    half_waves,    ///< the light is chopped at 20-40 Hz
};
inline constexpr std::array<std::string_view, 14> soak_axes{
    "breaks", "dips",  "vibration", "strikes-twice", "strays", "half-hazard", "second-rhythm",
    "groups", "drift", "missing",   "fumble",        "touch",  "hum",         "half-waves"};

} // namespace winkhold::measure
