/// What a CSV file doesn't say of its columns, told from their numbers.
#pragma once

#include "winkhold/taps/capture/detail/csv_layout.hpp"
#include "winkhold/taps/capture/detail/csv_lines.hpp"

namespace winkhold::taps::capture {

/// Settles each column that is unsettled: numbers with a decimal mark that are neither 0 nor 1 are volts. And
/// the unit of time: numbers with a decimal mark are seconds. What is settled so is put among the caveats.
/// `first` is the first row if it has been read already. Throws Complaint if times are whole numbers of
/// nobody knows what.
void settle_csv_layout(CsvLayout& layout, const std::optional<CsvRecord>& first, CsvLines& lines);

} // namespace winkhold::taps::capture
