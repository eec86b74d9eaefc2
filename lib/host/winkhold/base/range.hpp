/// A figure of a scenario that varies.
#pragma once

#include "winkhold/base/wings.hpp"

namespace winkhold::base {

/// Drawn uniformly from [least, most]; each field of a scenario says how often.
struct Range {
    double least{0};
    double most{0};

    constexpr Range() = default;
    /// The same value each time; implicit, as a plain number in a file is.
    constexpr Range(double always) : least(always), most(always) {}
    /// Any value between, both ends included. `from` must not be above `to`.
    constexpr Range(double from, double to) : least(from), most(to) {}

    /// There is only one value to draw.
    constexpr bool fixed() const { return least == most; }
    /// It is always 0: switched off.
    constexpr bool zero() const { return least == 0 && most == 0; }
};

} // namespace winkhold::base
