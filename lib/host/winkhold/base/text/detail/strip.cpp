#include "winkhold/base/text/detail/strip.hpp"

#include <algorithm>

namespace winkhold::base {

void Strip::level(TimeUs t_us, bool high) {
    fill(t_us);
    high_ = high;
}

void Strip::fill(TimeUs to_us) {
    if (to_us <= now_us_) return;
    while ((to_us - 1) / cell_us_ >= static_cast<TimeUs>(cells_.size()))
        widen();
    for (TimeUs cell = now_us_ / cell_us_; cell <= (to_us - 1) / cell_us_; ++cell)
        cells_[static_cast<std::size_t>(cell)] |= high_ ? Seen::high : Seen::low;
    now_us_ = to_us;
}

void Strip::widen() {
    const std::size_t half = cells_.size() / 2;
    for (std::size_t i = 0; i < half; ++i)
        cells_[i] = static_cast<std::uint8_t>(cells_[2 * i] | cells_[2 * i + 1]);
    std::fill(cells_.begin() + static_cast<std::ptrdiff_t>(half), cells_.end(), 0);
    cell_us_ *= 2;
}

std::string Strip::draw(TimeUs from_us, TimeUs to_us, std::size_t columns) {
    fill(to_us);
    std::string drawn;
    for (std::size_t column = 0; column < columns; ++column) {
        const auto border = [&](std::size_t i) {
            return from_us + (to_us - from_us) * static_cast<TimeUs>(i) / static_cast<TimeUs>(columns);
        };
        const TimeUs first = border(column) / cell_us_;
        const TimeUs last = std::max(first, (border(column + 1) - 1) / cell_us_);
        std::uint8_t seen = 0;
        for (TimeUs cell = first; cell <= last && cell < static_cast<TimeUs>(cells_.size()); ++cell)
            seen |= cells_[static_cast<std::size_t>(cell)];
        drawn += seen == Seen::high ? '#' : seen == Seen::low ? '_' : seen == 0 ? ' ' : '+';
    }
    return drawn;
}

} // namespace winkhold::base
