/// Where a tap's voltage switches it, in volts as they are written.
#pragma once

#include "winkhold/taps/capture/detail/taps.hpp"

#include <array>
#include <cstddef>
#include <cstdint>

namespace winkhold::taps::capture {

/// Voltages are compared as digits behind which so many decimals start: the digits of 12.60 are 1260. That
/// says exactly what comparing the numbers as doubles would.
class VoltThresholds {
public:
    static constexpr std::size_t most_decimals = 9;

    struct Digits {
        std::uint64_t on;  ///< from here on a tap goes high
        std::uint64_t off; ///< below, it goes low
    };

    explicit VoltThresholds(const TapRules& rules);

    /// Of numbers with so many decimals, up to most_decimals.
    const Digits& with_decimals(std::size_t decimals) const { return by_decimals_[decimals]; }

private:
    std::array<Digits, most_decimals + 1> by_decimals_;
};

} // namespace winkhold::taps::capture
