/// The owner's sheet: plain words for whoever rides the bike and has no tools.
#pragma once

#include "winkhold/bike/checklist/checklist.hpp"

#include <string>
#include <vector>

namespace winkhold::bike {

/// A question that whoever rides asks, and its answers.
struct OwnerSection {
    std::string title;
    std::vector<std::string> sentences;
};

/// The whole sheet, as data.
struct OwnerSheet {
    std::string vehicle;
    Readiness readiness;
    StillExample still_example;
    std::vector<OwnerSection> sections;
};

/// Throws InputError as the readers of the sections.
OwnerSheet owner_sheet_of(const Vehicle& vehicle, const Checklist& checklist);

/// Each begins with the verdict and ends with the caution.
std::string owner_text(const OwnerSheet& owner);
/// The same, to be printed.
std::string owner_markdown(const OwnerSheet& owner);
/// RFC 4180: section, text.
std::string owner_csv(const OwnerSheet& owner);
/// Schema winkhold.owner/1.
std::string owner_json(const OwnerSheet& owner);

} // namespace winkhold::bike
