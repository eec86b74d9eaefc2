/// Papers for people: titled sections with sentences and tables, as text or Markdown.
#pragma once

#include "winkhold/base/text/detail/table.hpp"

#include <string>
#include <vector>

namespace winkhold::base {

struct SheetSection {
    std::string title;
    std::vector<std::string> sentences{}; ///< each a point of a list
    Table table{};                        ///< columns in which nothing stands are left out
};

struct Sheet {
    std::string title;
    std::string verdict;
    std::vector<SheetSection> sections{};
};

/// Within 80 columns; the caution at the end.
std::string sheet_text(const Sheet& sheet);
/// GitHub's Markdown; the caution at the end.
std::string sheet_markdown(const Sheet& sheet);

} // namespace winkhold::base
