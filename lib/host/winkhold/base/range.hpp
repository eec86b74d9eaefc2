/// A figure of a scenario that varies.
#pragma once

#include "winkhold/base/wings.hpp"

namespace winkhold::base {

/// Drawn uniformly from [least, most]; each field of a scenario says how often.
struct Range {
    double least{0};
    double most{0};

    constexpr Range() = default;
    constexpr Range(double always) : least(always), most(always) {}
    constexpr Range(double from, double to) : least(from), most(to) {}

    constexpr bool fixed() const { return least == most; }
    constexpr bool zero() const { return least == 0 && most == 0; }
};

} // namespace winkhold::base
