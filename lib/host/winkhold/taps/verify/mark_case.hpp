/// A moment that somebody marked on a board's log, made into a case.
#pragma once

#include "winkhold/core/lines.hpp"
#include "winkhold/taps/trace/timeline.hpp"

#include <optional>
#include <string>

namespace winkhold::taps {

/// So much of the log around the mark goes into the case.
inline constexpr TimeUs before_mark_us = 60'000'000;
inline constexpr TimeUs after_mark_us = 10'000'000;

/// Writes case.toml, recording.csv and expected.csv into `folder`, which must not be there yet: the taps
/// around mark `number` (from 1 on), the settings that were in force on the board, and what is expected: what
/// the decoder makes of these taps, or, if given, `should_show` in place of what it shows at the mark.
/// Returns what to do next, for people. Throws InputError: no log of a board, no such mark, a folder that is
/// there.
std::string make_case_of_mark(const std::string& recording, int number, const std::string& folder,
                              std::optional<core::Indication> should_show);

} // namespace winkhold::taps
