#include "winkhold/taps/capture/detail/vcd_timescale.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"
#include "winkhold/taps/capture/detail/decimal.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::taps::capture {
namespace {

struct Prefix {
    std::string_view text;
    int exponent;
};

constexpr Prefix numbers[] = {{"1", 0}, {"10", 1}, {"100", 2}};
constexpr Prefix units_of_us[] = {{"s", 6}, {"ms", 3}, {"us", 0}, {"ns", -3}, {"ps", -6}, {"fs", -9}};

template <class Table>
const Prefix* find(const Table& table, std::string_view text) {
    const auto* const found = std::find_if(std::begin(table), std::end(table),
                                           [text](const Prefix& prefix) { return prefix.text == text; });
    return found == std::end(table) ? nullptr : found;
}

} // namespace

VcdTimescale::VcdTimescale(std::string_view text) {
    const std::size_t digits = std::min(text.find_first_not_of("0123456789"), text.size());
    const Prefix* const number = find(numbers, text.substr(0, digits));
    const Prefix* const unit = find(units_of_us, text.substr(digits));
    if (number == nullptr || unit == nullptr) {
        throw Complaint{fmt::format(
            "the timescale is {}; it must be 1, 10 or 100, no fraction, and one of s, ms, us, ns, ps or fs; "
            "correct it, or say what its times count with --time-unit",
            shown(text))};
    }
    const int exponent = number->exponent + unit->exponent;
    auto& factor = exponent >= 0 ? us_per_tick_ : ticks_per_us_;
    factor = detail::powers_of_ten[static_cast<std::size_t>(std::abs(exponent))];
    most_units_ = latest_us / us_per_tick_;
}

} // namespace winkhold::taps::capture
