/// The wiring sheet: every connection, what must stay connected, what is wrong. Each with the caution.
#pragma once

#include "winkhold/bike/wiring/check.hpp"

#include <string>

namespace winkhold::bike {

/// For a terminal, at most 80 columns wide.
std::string wiring_text(const WiringSheet& sheet);
/// To be printed: Markdown tables, to label the wires by.
std::string wiring_markdown(const WiringSheet& sheet);
/// RFC 4180. Its first column says what a row is: wire, keep, finding, warning,
/// still-example, not-judged or caution.
std::string wiring_csv(const WiringSheet& sheet);
/// Schema winkhold.wiring/1.
std::string wiring_json(const WiringSheet& sheet);

} // namespace winkhold::bike
