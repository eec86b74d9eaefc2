/// `winkhold prove families`: the default decoder beside a plain hold on imperfect lines.
#pragma once

#include "winkhold/measure/families/judge.hpp"

#include <array>
#include <string>

namespace winkhold::measure {

/// A run, with what it was made of and how it was judged.
struct FamilyReport {
    FamilyPlan plan;
    FamilyRun run; ///< of two decoders: the default, then the plain hold
    std::array<std::string, 2> decoders;
    FamilyVerdict verdict; ///< of the default
};

/// For people: at most 80 columns, a row a family, the goals, then which of them are missed.
std::string families_text(const FamilyReport& report);

/// The families' rows as Markdown.
std::string families_markdown(const FamilyReport& report);

/// Schema winkhold.families/1, documented in apps/winkhold/README.md. Ends with a newline.
std::string families_json(const FamilyReport& report);

/// Its words in tables and JSON.
constexpr std::string_view name(FamilyMiss::What what) {
    constexpr std::string_view names[] = {"dropouts", "false shows", "hazards shown as one side"};
    return names[static_cast<std::size_t>(what)];
}

} // namespace winkhold::measure
