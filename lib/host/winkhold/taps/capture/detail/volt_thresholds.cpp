#include "winkhold/taps/capture/detail/volt_thresholds.hpp"

#include "winkhold/taps/capture/detail/decimal.hpp"

namespace winkhold::taps::capture {

VoltThresholds::VoltThresholds(const TapRules& rules) : by_decimals_{} {
    for (std::size_t decimals = 0; decimals < by_decimals_.size(); ++decimals) {
        const auto least_digits = [&](auto is_reached) {
            std::uint64_t least = 0;
            for (std::uint64_t step = std::uint64_t{1} << 62; step > 0; step /= 2) {
                const Decimal below{least + step - 1, -static_cast<int>(decimals)};
                if (!is_reached(to_double(below))) least += step;
            }
            return least;
        };
        by_decimals_[decimals].on = least_digits([&](double volts) { return rules.is_on(volts); });
        by_decimals_[decimals].off = least_digits([&](double volts) { return !rules.is_off(volts); });
    }
}

} // namespace winkhold::taps::capture
