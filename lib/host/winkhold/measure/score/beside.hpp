/// One recording, several answers: what plain holds make of it, and what the decoder does.
#pragma once

#include "winkhold/measure/score/figures.hpp"

#include <optional>
#include <string>
#include <vector>

namespace winkhold::measure {

/// What the decoder's answer is held against, and which stretch is drawn.
struct BesidePlan {
    std::vector<TimeUs> holds_us; ///< of plain holds: fixed, sides independent, no cut-short
    std::optional<TimeUs>
        from_us; ///< drawn from here on; else around the first change of sides, or the first light
    std::optional<TimeUs> for_us; ///< and so long; else 2.97 s, 45 ms a character
};

/// What one decoder answers, and its figures over the whole recording.
struct BesideAnswer {
    std::string label; ///< as a sentence begins or goes on with it
    Timeline timeline;
    Figures figures;
};

/// Answers of the plain holds as planned, then the decoder's.
struct Beside {
    Trace trace;
    TimeUs from_us{0}; ///< the drawn stretch
    TimeUs to_us{0};
    std::int64_t flashes{0};
    std::vector<BesideAnswer> answers;
};

/// Decodes a recording with `settings` and with each plain hold, which settles as they do. What was asked for
/// is inferred from the flashes, so release counts from the last light. Keeps the edges. Throws InputError
/// from the source, for a hold out of range, and for a stretch that the recording doesn't have.
Beside decode_beside(EdgeSource& source, const core::Settings& settings, const BesidePlan& plan);

/// For people: the lines, each answer with what is wrong with it in words, and one sentence with the figures.
std::string beside_text(const Beside& beside, const std::string& title);

} // namespace winkhold::measure
