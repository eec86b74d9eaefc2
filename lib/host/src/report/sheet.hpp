/// Papers for people: titled sections with sentences and tables, as text or Markdown; and fields of CSV.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace winkhold::host {

struct Table {
    std::vector<std::string> head;
    std::vector<std::vector<std::string>> rows; ///< each as long as the head
};

struct SheetSection {
    std::string title;
    std::vector<std::string> sentences; ///< each a point of a list
    Table table;                        ///< columns in which nothing stands are left out
};

struct Sheet {
    std::string title;
    std::string verdict;
    std::vector<SheetSection> sections;
};

/// 80 columns where the tables' cells let it; the caution at the end.
std::string sheet_text(const Sheet& sheet);
/// GitHub's tables; the caution at the end.
std::string sheet_markdown(const Sheet& sheet);

/// The caution on one line, without its newline.
std::string caution_line();

/// A record of CSV as RFC 4180 has it, CRLF included: what holds commas, quotes or line breaks is quoted.
std::string csv_record(const std::vector<std::string>& fields);

} // namespace winkhold::host
