/// `winkhold rules`: what each rule of the decoder costs and gains.
#pragma once

#include "winkhold/host/compare/rules.hpp"

#include <string>

namespace winkhold::host {

/// For people: at most 80 columns, with the faults that each change wins or loses.
std::string rules_text(const RulesTable& table);

/// One row a rule, for the README.
std::string rules_markdown(const RulesTable& table);

/// Schema winkhold.rules/1, documented in the README. Ends with a newline.
std::string rules_json(const RulesTable& table);

/// Ids that are in `these` and not in `those`.
std::vector<std::string> without(const std::vector<std::string>& these,
                                 const std::vector<std::string>& those);

} // namespace winkhold::host
