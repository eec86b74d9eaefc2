#pragma once

#include "winkhold/base/wings.hpp"

#include <algorithm>
#include <vector>

namespace winkhold::base {

/// The upper one of an even number. Not of nothing.
inline double median(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

} // namespace winkhold::base
