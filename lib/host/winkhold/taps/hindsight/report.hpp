/// `winkhold decode --hindsight`: the answer, and where the smoother disagrees with it.
#pragma once

#include "winkhold/taps/decode/decode.hpp"

namespace winkhold::taps {

/// What write_decoded() writes as text or JSON, with the disagreements added: a list `disagreements` in JSON,
/// a section of its own in the text. Returns how many there are. Nothing is written before the whole
/// recording is read; it is kept as settled edges. Throws InputError for CSV, which has no rows for them, and
/// from the source.
std::size_t write_decoded_with_hindsight(std::ostream& out, EdgeSource& source,
                                         const core::Settings& settings, Format format,
                                         const std::string& name);

} // namespace winkhold::taps
