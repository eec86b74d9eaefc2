/// The decoder's answer with something added.
#pragma once

#include "winkhold/taps/decode/decode.hpp"

#include <functional>

namespace winkhold::taps {

/// write_decoded(), with `addition` called when the source has been read and the answer is written: in JSON
/// before the last brace, in the text before the caution; not for CSV.
void write_decoded_with(std::ostream& out, EdgeSource& source, const core::Settings& settings, Format format,
                        const std::string& name, const std::function<void()>& addition);

} // namespace winkhold::taps
