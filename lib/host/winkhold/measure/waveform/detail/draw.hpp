/// Draws from a scenario's ranges. A fixed range takes no number from the stream.
#pragma once

#include "winkhold/base/range.hpp"
#include "winkhold/base/time.hpp"
#include "winkhold/measure/waveform/random.hpp"

#include <cmath>

namespace winkhold::measure {

inline double draw(const Range& range, RandomStream& random) {
    return range.fixed() ? range.least : range.least + (range.most - range.least) * random.unit();
}

inline TimeUs draw_us(const Range& range, RandomStream& random) {
    return static_cast<TimeUs>(std::floor(draw(range, random) + 0.5));
}

} // namespace winkhold::measure
