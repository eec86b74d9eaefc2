/// The part of a VCD file ahead of its first value.
#pragma once

#include "capture/vcd_signals.hpp"
#include "capture/vcd_timescale.hpp"
#include "capture/vcd_words.hpp"

namespace winkhold::host::capture {

struct VcdDefinitions {
    VcdTimescale timescale;
    VcdSignals signals;
};

/// Reads up to $enddefinitions. Sections of other kinds, such as $date, are passed over. Throws Complaint if
/// a definition is not as IEEE 1364 has it or the file ends among them.
VcdDefinitions read_vcd_definitions(VcdWords& words);

} // namespace winkhold::host::capture
