/// What the columns of a CSV file hold.
#pragma once

#include "capture/csv_row.hpp"
#include "capture/taps.hpp"

#include <string>
#include <vector>

namespace winkhold::host::capture {

struct CsvColumn {
    enum class Kind { ignored, time, level, volts };

    Kind kind{Kind::ignored};
    Lines::Tap tap{};  ///< of a level or volts
    std::string label; ///< the name as errors show it
};

struct CsvLayout {
    std::vector<CsvColumn> columns;
    int time_exponent{0}; ///< times count 10^time_exponent us
};

/// Reads the header. Throws Complaint if it has not exactly one time column, a name twice, or not the taps
/// wanted.
CsvLayout read_csv_layout(const CsvRow& header, const RecordingOptions& options);

} // namespace winkhold::host::capture
