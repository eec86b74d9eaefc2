/// The part of a VCD file ahead of its first value.
#pragma once

#include "winkhold/taps/capture/detail/vcd_signals.hpp"
#include "winkhold/taps/capture/detail/vcd_timescale.hpp"
#include "winkhold/taps/capture/detail/vcd_words.hpp"

namespace winkhold::taps::capture {

struct VcdDefinitions {
    VcdTimescale timescale;
    VcdSignals signals;
};

/// Reads up to $enddefinitions. `time_unit` (as in "us") takes the place of the time scale. Sections of other
/// kinds, such as $date, are passed over. Throws Complaint if a definition is not as IEEE 1364 has it or the
/// file ends among them.
VcdDefinitions read_vcd_definitions(VcdWords& words, const std::optional<std::string>& time_unit);

} // namespace winkhold::taps::capture
