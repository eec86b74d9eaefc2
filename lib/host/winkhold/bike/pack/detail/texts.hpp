/// The files of a pack that are written anew for each bike.
#pragma once

#include "winkhold/bike/pack/detail/board_plan.hpp"
#include "winkhold/bike/pack/pack.hpp"

namespace winkhold::bike {

/// What every text of a pack is made from.
struct PackCase {
    const Vehicle& vehicle;
    const BoardPlan& plan;
    std::uint32_t hash;
    std::string version;
};

/// Fit for the end of a line of C++ or Markdown, whatever somebody wrote: printable ASCII without backslashes
/// and trigraphs, of at most 90 characters.
std::string plain_remark(std::string_view text);
/// Where a value comes from: "bike.toml:55: why" or "nobody gave it, so the core's default".
std::string reason(const Vehicle& vehicle, const std::string& field);
/// A file's name without its folders, which differ from machine to machine.
std::string file_name(const std::string& path);

// bike_header.cpp
std::string bike_header_text(const PackCase& pack);
// golden.cpp
std::string golden_text(const PackCase& pack);
// sheet.cpp
std::string sheet_text(const PackCase& pack);
std::string headers_sheet_text(const PackCase& pack);

} // namespace winkhold::bike
