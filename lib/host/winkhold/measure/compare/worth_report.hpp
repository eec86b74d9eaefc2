/// `winkhold prove worth`: what each rule of the decoder costs and gains.
#pragma once

#include "winkhold/measure/compare/worth.hpp"

#include <string>

namespace winkhold::measure {

/// For people: at most 80 columns, with the faults that each change wins or loses.
std::string worth_text(const WorthTable& table);

/// One row a rule, for bench/README.md.
std::string worth_markdown(const WorthTable& table);

/// Schema winkhold.worth/1, documented in apps/winkhold/README.md. Ends with a newline.
std::string worth_json(const WorthTable& table);

/// Ids that are in `these` and not in `those`.
std::vector<std::string> without(const std::vector<std::string>& these,
                                 const std::vector<std::string>& those);

} // namespace winkhold::measure
