/// Lists of level changes of one tap, from low, in order of time; and spans of time put into or cut out of
/// them.
#pragma once

#include "winkhold/measure/waveform/ride.hpp"

#include <algorithm>
#include <vector>

namespace winkhold::measure {

using Levels = std::vector<LevelChange>;

/// Pulses in order of time, as changes from low.
inline void pulse(Levels& out, TimeUs on_us, TimeUs off_us) {
    if (!out.empty()) on_us = std::max(on_us, out.back().t_us + 1);
    if (on_us >= off_us) return;
    out.push_back({on_us, true});
    out.push_back({off_us, false});
}

/// Both lists merged: the level is combine(a's, b's).
template <class Combine>
Levels merged(const Levels& a, const Levels& b, Combine&& combine) {
    Levels out;
    out.reserve(a.size() + b.size());
    bool a_high = false;
    bool b_high = false;
    bool high = false;
    for (std::size_t i = 0, k = 0; i < a.size() || k < b.size();) {
        const TimeUs t_us =
            std::min(i < a.size() ? a[i].t_us : never_us, k < b.size() ? b[k].t_us : never_us);
        while (i < a.size() && a[i].t_us == t_us)
            a_high = a[i++].high;
        while (k < b.size() && b[k].t_us == t_us)
            b_high = b[k++].high;
        if (combine(a_high, b_high) == high) continue;
        high = !high;
        out.push_back({t_us, high});
    }
    return out;
}

inline constexpr auto cut_out = [](bool level, bool pulse) { return level && !pulse; };
inline constexpr auto put_in = [](bool level, bool pulse) { return level || pulse; };
inline constexpr auto only_in = [](bool level, bool pulse) { return level && pulse; };

} // namespace winkhold::measure
