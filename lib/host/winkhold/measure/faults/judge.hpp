/// One ride under one fault, held against the fault's limits.
#pragma once

#include "winkhold/measure/faults/fault.hpp"
#include "winkhold/measure/faults/listen.hpp"
#include "winkhold/measure/waveform/truth.hpp"

namespace winkhold::measure {

/// One figure beside its limit.
struct FaultFigure {
    std::string what; ///< "release", "dropouts", "stuck-on not flagged", ...
    bool is_time{false};
    bool is_statement{false}; ///< `what` says it all: true (1) or not (0)
    std::int64_t value{0};    ///< us, or a count
    std::int64_t limit{0};

    /// The value is beyond the limit; equality keeps it.
    bool broken() const { return value > limit; }
    /// How near the limit is, 1 at it; to find the worst among unlike figures.
    double strain() const;
};

/// Every limit of the fault as a measure. `plain` is what was heard with the count at 0, if the fault asks
/// for that.
std::vector<FaultFigure> judge(const FaultLimits& limits, Truth truth, const Heard& heard,
                               const Heard* plain);

/// True if one of these names (report/names.hpp) is among the flags.
bool raised(unsigned flags, const std::vector<std::string>& names);

} // namespace winkhold::measure
