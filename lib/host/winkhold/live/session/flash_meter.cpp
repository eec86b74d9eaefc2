#include "winkhold/live/session/flash_meter.hpp"

#include "winkhold/core/settings.hpp"

#include <algorithm>
#include <numeric>

namespace winkhold::live {

std::optional<double> FlashFigures::per_min() const {
    if (on.count == 0 || dark.count == 0) return std::nullopt;
    return 60e6 / static_cast<double>(on.mean_us + dark.mean_us);
}

Durations FlashMeter::Last::durations() const {
    const auto end = last_.begin() + static_cast<std::ptrdiff_t>(std::min(count_, last_.size()));
    if (end == last_.begin()) return {};
    const auto [least, most] = std::minmax_element(last_.begin(), end);
    const auto count = end - last_.begin();
    return {static_cast<std::size_t>(count), std::accumulate(last_.begin(), end, TimeUs{0}) / count, *least,
            *most};
}

void FlashMeter::settled(TimeUs t_us, core::Lines lines) {
    for (const core::Side side : core::both_sides) {
        Line& line = sides_[static_cast<std::size_t>(side)];
        if (lines.has(side) == line.lit) continue;
        if (line.since_us) {
            const TimeUs lasted_us = t_us - *line.since_us;
            if (line.lit)
                line.on.add(lasted_us);
            else if (lasted_us <= core::built_in::longest_gap_us)
                line.dark.add(lasted_us);
        }
        line.lit = lines.has(side);
        line.since_us = t_us;
    }
}

void FlashMeter::interrupted() {
    for (Line& line : sides_)
        line.since_us.reset();
}

FlashFigures FlashMeter::figures(core::Side side) const {
    const Line& line = sides_[static_cast<std::size_t>(side)];
    return {line.on.durations(), line.dark.durations()};
}

} // namespace winkhold::live
