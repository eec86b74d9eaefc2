/// `winkhold inspect`: what the taps of a recording look like.
#pragma once

#include "winkhold/taps/inspect/inspect.hpp"

namespace winkhold::taps {

/// What it means, one sentence each, the weightiest first.
std::vector<std::string> verdict_of(const Inspection& inspection);

/// For people: at most 80 columns, with histograms drawn in characters.
std::string inspect_text(const Inspection& inspection, const std::string& title);

/// Schema winkhold.inspect/1, documented in apps/winkhold/README.md. Ends with a newline.
std::string inspect_json(const Inspection& inspection);

} // namespace winkhold::taps
