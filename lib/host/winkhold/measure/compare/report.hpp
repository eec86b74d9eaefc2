/// `winkhold prove compare`: the default decoder beside plainer ones and the clairvoyant bound.
#pragma once

#include "winkhold/measure/compare/compare.hpp"

#include <string>

namespace winkhold::measure {

/// For people: at most 80 columns; for each jitter all cells and all decoders, then what misses its target.
std::string compare_text(const Comparison& comparison);

/// Two tables for bench/README.md: the judged cells, one row each, and the decoders over all of them.
std::string compare_markdown(const Comparison& comparison);

/// Schema winkhold.compare/1, documented in apps/winkhold/README.md. Ends with a newline.
std::string compare_json(const Comparison& comparison);

} // namespace winkhold::measure
