/// A figure and how well it is known.
#pragma once

namespace winkhold::host {

/// `low` to `high` covers the truth in 95 of 100 recordings.
struct Estimate {
    double value{0};
    double low{0};
    double high{0};

    bool covers(double truth) const { return low <= truth && truth <= high; }
    double width() const { return high - low; }
};

} // namespace winkhold::host
