/// What is ahead of the rows of a CSV file.
#pragma once

#include "winkhold/taps/capture/detail/csv_layout.hpp"
#include "winkhold/taps/capture/detail/text_input.hpp"

namespace winkhold::taps::capture {

struct CsvHead {
    CsvLayout layout;
    const char* rows{nullptr}; ///< the first byte behind, in the input's block
    long long line{1};         ///< of the first row
};

/// Reads the lines up to the first row, and as many rows as it takes to settle what the columns hold. `line`
/// is the line to blame for a Complaint, which is thrown if no line names the time and the taps asked for.
CsvHead read_csv_head(TextInput& input, const RecordingOptions& options, long long& line);

} // namespace winkhold::taps::capture
