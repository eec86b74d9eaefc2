/// What the columns of a CSV file hold.
#pragma once

#include "winkhold/taps/capture/detail/csv_row.hpp"
#include "winkhold/taps/capture/detail/taps.hpp"

#include <string>
#include <vector>

namespace winkhold::taps::capture {

struct CsvColumn {
    enum class Kind { ignored, time, level, volts };

    Kind kind{Kind::ignored};
    Lines::Tap tap{};  ///< of a level or volts
    std::string label; ///< the name as errors show it
};

struct CsvLayout {
    std::vector<CsvColumn> columns;
    int time_exponent{0};   ///< times count 10^time_exponent us
    char separator{','};    ///< between fields
    char decimal_mark{'.'}; ///< within numbers
};

/// What stands between the names of the header line at the front of `text`: ';' if one comes ahead of any
/// comma, else ','.
char csv_separator(std::string_view text);

/// Reads the header. Throws Complaint if it has not exactly one time column, a name twice, or not the taps
/// wanted, and for decimal commas where commas separate the columns.
CsvLayout read_csv_layout(const CsvRow& header, char separator, const RecordingOptions& options);

} // namespace winkhold::taps::capture
