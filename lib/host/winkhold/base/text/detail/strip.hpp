/// Lines and answer drawn as strips of characters.
#pragma once

#include "winkhold/base/time.hpp"
#include "winkhold/base/wings.hpp"

#include <string>
#include <vector>

namespace winkhold::base {

/// Which levels occurred in each of a fixed number of equal stretches of time. The stretch doubles when the
/// time runs over, so memory stays the same however long the recording is.
class Strip {
public:
    explicit Strip(std::size_t cells = 4'096) : cells_(cells, 0) {}

    /// The level from `t_us` on; calls in order of time.
    void level(TimeUs t_us, bool high);

    /// `columns` characters from `from_us` to `to_us`: '#' high all along, '_' low all along, '+' both.
    std::string draw(TimeUs from_us, TimeUs to_us, std::size_t columns);

private:
    enum Seen : std::uint8_t { low = 1, high = 2 };
    void fill(TimeUs to_us);
    void widen();

    std::vector<std::uint8_t> cells_;
    TimeUs cell_us_{1'000};
    TimeUs now_us_{0};
    bool high_{false};
};

} // namespace winkhold::base
