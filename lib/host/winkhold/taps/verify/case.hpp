/// A regression case: a recording, the answer that is expected of it, and why it is kept.
#pragma once

#include "winkhold/core/settings.hpp"
#include "winkhold/taps/capture/recording.hpp"
#include "winkhold/taps/trace/timeline.hpp"

#include <optional>
#include <string>
#include <vector>

namespace winkhold::taps {

/// Where a case's recording is from.
enum class Origin {
    synthetic, ///< made from a scenario, by hand or by a simulation
    edited,    ///< another case cut down by hand to what matters
    real,      ///< recorded on a bike
};

/// Where a recording comes from.
struct Provenance {
    Origin origin{Origin::synthetic};
    std::string source;    ///< how it was made, or bike and taps without names of people
    std::string licence;   ///< under which it may be passed on
    std::string reason;    ///< the one thing that it is kept for
    std::string reasoning; ///< how the expected answer follows from what happened and from the settings
};

/// A case.toml, read and checked.
struct VerifyCase {
    std::string recording; ///< path
    RecordingOptions options;
    core::Settings settings; ///< checked
    Provenance provenance;
    TimeUs tolerance_us{0}; ///< a change may come this much earlier or later
    /// Unset: the case has no expected.csv yet. Else not empty, in order of time.
    std::optional<Timeline> expected;
};

/// Where a case was found.
struct FoundCase {
    std::string name;   ///< its folder from the searched one on, with '/'
    std::string folder; ///< path
};

inline constexpr const char* case_file = "case.toml";
inline constexpr const char* expected_file = "expected.csv";
inline constexpr const char* candidate_file = "expected.candidate.csv";

/// Every folder below `root`, or `root` itself, that holds a case.toml; by name. Throws InputError: no such
/// folder, no case in it, a folder with an expected.csv but no case.toml (it would be passed over unnoticed).
std::vector<FoundCase> find_cases(const std::string& root);

/// Reads case.toml and expected.csv. Throws InputError naming file, line and field.
VerifyCase read_case(const std::string& folder);

/// Reads `time_us,indication`. Throws InputError: no rows, a bad row, times that go back, an indication that
/// is no change.
Timeline read_timeline_csv(const std::string& path);

/// The same form.
void write_timeline_csv(std::ostream& out, const Timeline& timeline);

} // namespace winkhold::taps
