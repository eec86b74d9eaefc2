/// A fault of the catalogue: what goes wrong, what good behaviour is, and the limits that say so in figures.
#pragma once

#include "winkhold/measure/waveform/scenario.hpp"

#include <optional>
#include <string>
#include <vector>

namespace winkhold::measure {

/// Limits on one ride. Figures are those of score/figures.hpp, counted against what the rider asked for.
struct FaultLimits {
    std::int64_t most_dropouts{0};
    std::int64_t most_false_shows{0};
    std::int64_t most_missed{0};
    std::optional<TimeUs> longest_release_us;
    std::optional<TimeUs> longest_overlap_us;
    std::optional<TimeUs> longest_acquire_us;
    /// A side that is asked for and has been shown must not stay away longer than this at a stretch.
    std::optional<TimeUs> longest_outage_us;
    /// Flags (report/names.hpp) that must come up in every ride.
    std::vector<std::string> must_flag;
    /// Flags that admit that these lines can't be told apart: a limit broken under one of them is no failing.
    std::vector<std::string> excused_by;
    std::vector<core::Indication> never_show;
    /// The answer must be the same, to the microsecond, whatever the clock's count is at the start.
    bool same_at_any_count{false};
    /// Judge this side alone: nothing about the other one can be known.
    std::optional<core::Side> only;
};

/// One way in which a fault shows.
struct FaultVariant {
    std::string name; ///< empty if there is only one
    Scenario scenario;
    FaultLimits limits;
};

/// One entry of the catalogue: scenario, and what good behaviour is.
struct FaultCase {
    std::string id;    ///< "F07", "F03xF06"
    std::string title; ///< plain words
    std::string good;  ///< what good behaviour is, with the mark of its source
    std::string file;
    std::vector<FaultVariant> variants; ///< at least one
};

/// Reads a scenario with a `[fault]` section; a `[[variant]]` may change limits in its own `fault` table.
/// Throws InputError naming file, line and field.
FaultCase fault_of(const Vehicle& vehicle);

/// Every .toml file of a folder, by id; the catalogue that is carried along if `folder` is empty. With `ids`,
/// only those. Throws InputError also for: no such folder, no fault in it, an id that is not there or there
/// twice.
std::vector<FaultCase> read_faults(const std::string& folder, const std::vector<std::string>& ids);

} // namespace winkhold::measure
