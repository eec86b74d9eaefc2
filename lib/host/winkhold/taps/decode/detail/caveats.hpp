/// What a recording can't tell, as reports say it.
#pragma once

#include "winkhold/taps/trace/trace.hpp"

#include <ostream>

namespace winkhold::taps {

/// A section of its own; nothing if there are none.
void write_caveats_text(std::ostream& out, const std::vector<Caveat>& caveats);

/// `,"caveats":[...]`; nothing if there are none.
void write_caveats_json(std::ostream& out, const std::vector<Caveat>& caveats);

} // namespace winkhold::taps
