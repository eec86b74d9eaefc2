/// `winkhold decode --out`: lines and answer in one file that any waveform viewer or spreadsheet opens.
#pragma once

#include "winkhold/taps/trace/trace.hpp"

#include "winkhold/core/settings.hpp"

#include <iosfwd>
#include <memory>

namespace winkhold::taps {

/// What kind of file lines and answer go into.
enum class DecodedFormat { vcd, csv };

/// Passes on the edges of `source` and writes to `out`, as they come, the raw lines, the settled lines, what
/// is shown and the faults: as a value change dump (ticks of 1 us; scopes "settled", "shown" and "faults"
/// below "winkhold") or as CSV with a row for each change. The raw lines have the names by which a recording
/// is read, so the file can be decoded again. A tap that is not recorded is low. `out` is complete when the
/// returned source has said that there is no more; both must live until then. Memory stays flat.
std::unique_ptr<EdgeSource> write_decoded_file(EdgeSource& source, const core::Settings& settings,
                                               DecodedFormat format, std::ostream& out);

} // namespace winkhold::taps
