/// What the columns of a CSV file hold.
#pragma once

#include "winkhold/taps/capture/detail/csv_clock.hpp"
#include "winkhold/taps/capture/detail/csv_units.hpp"
#include "winkhold/taps/capture/detail/taps.hpp"

#include <optional>
#include <string>
#include <vector>

namespace winkhold::taps::capture {

struct CsvColumn {
    /// `sample`: a count of samples, which the clock turns into a time. `unsettled`: a tap whose numbers tell
    /// if it is a level or volts.
    enum class Kind { ignored, time, sample, level, volts, unsettled };

    Kind kind{Kind::ignored};
    Lines::Tap tap{};    ///< of a level or volts
    int exponent{0};     ///< times count 10^exponent us, volts 10^exponent V
    bool is_asked{true}; ///< a tap: what can't be read refuses the file
    std::string name;
    std::string label; ///< the name as errors show it
};

/// What the lines ahead of the names say.
struct CsvPreamble {
    std::optional<SampleClock> clock;
    std::vector<std::string> units; ///< of the columns in their order; may be empty
};

struct CsvLayout {
    std::vector<CsvColumn> columns;
    char separator{','};              ///< between fields
    char decimal_mark{'.'};           ///< within numbers
    bool is_mark_sure{true};          ///< false: a comma may yet turn out to be the mark
    std::optional<SampleClock> clock; ///< without a time column: of each row, or of its `sample`
    TimeUs start_us{0};               ///< of sample 0
    bool is_time_unit_sure{true};     ///< false: seconds, if its numbers look like it
    std::vector<Caveat> caveats;
};

/// The layout of columns called `names`. `units`, if any, is the row of units below them. Throws Complaint if
/// there is no time, or not the taps asked for.
CsvLayout read_csv_layout(const std::vector<std::string>& names, const std::vector<std::string>& units,
                          const CsvPreamble& preamble, char separator, const RecordingOptions& options);

} // namespace winkhold::taps::capture
