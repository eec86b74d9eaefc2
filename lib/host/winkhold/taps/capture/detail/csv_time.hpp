/// How a CSV file tells the time.
#pragma once

#include "winkhold/taps/capture/detail/csv_layout.hpp"

namespace winkhold::taps::capture {

/// Finds what tells the time and marks its column, if there is one. `names` are taken apart as the columns of
/// `layout` are called, with their units. Throws Complaint if nothing does.
void place_csv_time(CsvLayout& layout, const std::vector<CsvName>& names,
                    const std::vector<std::string>& units, const CsvPreamble& preamble,
                    const RecordingOptions& options);

/// The column called `name`: in full, else without its unit, else in small letters. Throws Complaint if it
/// may be any of several.
std::optional<std::size_t> find_csv_column(const std::vector<CsvColumn>& columns,
                                           const std::vector<CsvName>& names, std::string_view name);

} // namespace winkhold::taps::capture
