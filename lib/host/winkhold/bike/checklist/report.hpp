/// The checklist, what was measured, settings, versions, the way back. Each with the
/// caution.
#pragma once

#include "winkhold/bike/checklist/checklist.hpp"

#include <array>
#include <string>
#include <string_view>

namespace winkhold::bike {

/// For a terminal, at most 80 columns wide.
std::string checklist_text(const Checklist& checklist);
/// To be printed: Markdown, with boxes to tick.
std::string checklist_markdown(const Checklist& checklist);
/// RFC 4180. Its first column says what a row is: verdict, against, missing, point, setting, lamps, file,
/// program, restore or caution.
std::string checklist_csv(const Checklist& checklist);
/// Schema winkhold.checklist/2.
std::string checklist_json(const Checklist& checklist);

/// What no file knows, to be written on the paper.
inline constexpr std::array<std::string_view, 3> lines_by_hand{
    "Plate ______________________  Odometer ____________ km",
    "Owner ______________________  Built by _______________________",
    "Begun on ___________________  Finished on ____________________",
};

/// What stands below the head of each paper, after what is still the example's.
std::string under_notice(const StillExample& still, const std::string& text);
/// "2. Wet test: leakage"
std::string stage_title(Stage stage);
/// A box: empty, ticked, [!] failed, [?] not judged.
std::string mark(Standing standing);
/// "60 to 120 /min", "at most 5 ms"; empty for a point of yes or no, or without a limit.
std::string limit_text(const CheckPoint& point);
/// "85 /min", "done", "NOT DONE"; empty if nobody has measured it.
std::string measured_text(const PointRecord& record);

} // namespace winkhold::bike
