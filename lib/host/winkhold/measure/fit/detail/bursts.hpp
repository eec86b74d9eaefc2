/// The lights of both lines as the flasher made them: flashes, and runs of like flashes.
#pragma once

#include "winkhold/taps/inspect/inspect.hpp"

#include <vector>

namespace winkhold::measure {

/// One bright phase of the flasher; of a hazard's two lights the earlier rise and the earlier fall.
struct Flash {
    core::Indication show{core::Indication::off};
    TimeUs on_us{0};
    TimeUs off_us{0};
    bool whole{true}; ///< neither end is cut by the recording's
    bool sure{true};  ///< and neither was spoilt by noise

    bool has_length() const { return whole && sure; }
    double lit_us() const { return static_cast<double>(off_us - on_us); }
};

/// Flashes of one indication with no rest between.
using Burst = std::vector<Flash>;

/// The gaps that go on within a burst. Unit: us.
struct BurstGaps {
    double most_us{0};
    double missing_least_us{0}; ///< or two dark gaps with a flash left out between
    double missing_most_us{-1};

    bool missing(double gap_us) const { return missing_least_us <= gap_us && gap_us <= missing_most_us; }
    bool within(double gap_us) const { return gap_us <= most_us || missing(gap_us); }
};

/// In order of time. Any other gap parts two bursts, and so does another indication.
std::vector<Burst> bursts_of(const Inspection& seen, const BurstGaps& gaps);

/// The dark gap before flash `i` > 0 of a burst. Unit: us.
inline double gap_before_us(const Burst& burst, std::size_t i) {
    return static_cast<double>(burst[i].on_us - burst[i - 1].off_us);
}

} // namespace winkhold::measure
