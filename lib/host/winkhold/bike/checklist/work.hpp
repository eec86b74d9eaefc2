/// Paper to work on in the garage, and the tables in which what was measured comes back.
#pragma once

#include "winkhold/bike/checklist/checklist.hpp"

#include <string>

namespace winkhold::bike {

/// Lines for names, plate and odometer, then a page a stage (a form feed before each): boxes, limits and
/// empty lines for what is open, what was entered for the rest. Begins with the verdict, ends with the
/// caution.
std::string work_text(const Checklist& checklist);
/// The same; a rule stands between pages.
std::string work_markdown(const Checklist& checklist);

/// A [[measured]] table, behind #, for each point that nobody has entered: append them to the vehicle file,
/// fill in, take the # away. As it is, it changes nothing.
std::string entries_toml(const Checklist& checklist);

} // namespace winkhold::bike
