/// Flash rate, on and dark times of the settled lines, as somebody with a stop-watch would take them.
#pragma once

#include "winkhold/taps/trace/trace.hpp"

#include <array>
#include <cstddef>
#include <optional>

namespace winkhold::live {

/// Of the last flashes.
struct Durations {
    std::size_t count{0};
    TimeUs mean_us{0};
    TimeUs least_us{0};
    TimeUs most_us{0};
};

/// One side's flashes.
struct FlashFigures {
    Durations on;
    Durations dark;
    /// Flashes a minute; unset until an on and a dark time are known.
    std::optional<double> per_min() const;
};

/// Measures what settles. A dark time above a second is a pause between requests and does not count; an on
/// time that has not ended does not, either.
class FlashMeter {
public:
    /// The settled taps from then on.
    void settled(TimeUs t_us, core::Lines lines);
    /// Something is missing: the time that runs means nothing.
    void interrupted();
    /// Of the last sixteen flashes of that side.
    FlashFigures figures(core::Side side) const;

private:
    /// The last sixteen.
    class Last {
    public:
        void add(TimeUs duration_us) { last_[count_++ % last_.size()] = duration_us; }
        Durations durations() const;

    private:
        std::array<TimeUs, 16> last_{};
        std::size_t count_{0};
    };
    struct Line {
        bool lit{false};
        std::optional<TimeUs> since_us;
        Last on;
        Last dark;
    };
    std::array<Line, 2> sides_;
};

} // namespace winkhold::live
