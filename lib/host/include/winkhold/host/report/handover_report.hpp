/// The hand-over record: checklist, what was measured, settings, versions, the way back. Each with the
/// caution.
#pragma once

#include "winkhold/host/wiring/handover.hpp"

#include <string>

namespace winkhold::host {

std::string handover_text(const Handover& handover);
std::string handover_markdown(const Handover& handover);
/// RFC 4180. Its first column says what a row is: point, setting, lamps, file, program, wiring, restore or
/// caution.
std::string handover_csv(const Handover& handover);
/// Schema winkhold.handover/1.
std::string handover_json(const Handover& handover);

/// "60 to 120 /min", "at most 5 ms"; empty for a point of yes or no, or without a limit.
std::string limit_text(const CheckPoint& point);
/// "85 /min", "done", "NOT DONE"; empty if nobody has measured it.
std::string measured_text(const PointRecord& record);

} // namespace winkhold::host
