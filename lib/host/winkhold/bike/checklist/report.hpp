/// The checklist, what was measured, settings, versions, the way back. Each with the
/// caution.
#pragma once

#include "winkhold/bike/checklist/checklist.hpp"

#include <string>

namespace winkhold::bike {

/// For a terminal, at most 80 columns wide.
std::string checklist_text(const Checklist& checklist);
/// To be printed: Markdown, with boxes to tick.
std::string checklist_markdown(const Checklist& checklist);
/// RFC 4180. Its first column says what a row is: point, setting, lamps, file, program, wiring, restore or
/// caution.
std::string checklist_csv(const Checklist& checklist);
/// Schema winkhold.checklist/1.
std::string checklist_json(const Checklist& checklist);

/// "60 to 120 /min", "at most 5 ms"; empty for a point of yes or no, or without a limit.
std::string limit_text(const CheckPoint& point);
/// "85 /min", "done", "NOT DONE"; empty if nobody has measured it.
std::string measured_text(const PointRecord& record);

} // namespace winkhold::bike
