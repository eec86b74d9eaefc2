/// Tables for people and for spreadsheets.
#pragma once

#include "winkhold/base/wings.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace winkhold::base {

enum class Align : std::uint8_t { left, right };

struct Column {
    std::string head;
    Align align{Align::left};
    std::string over{}; ///< a head above this one and its neighbours with the same

    Column(std::string head, Align align = Align::left, std::string over = {})
        : head(std::move(head)), align(align), over(std::move(over)) {}
    Column(const char* head, Align align = Align::left, std::string over = {})
        : head(head), align(align), over(std::move(over)) {}
};

struct Table {
    std::vector<Column> columns;
    /// A cell for each column; or a single one, which is a line across them all.
    std::vector<std::vector<std::string>> rows{};
    std::size_t between{2}; ///< spaces between columns of text
};

/// Columns as wide as they must be, behind `indent` spaces. Where that is more than `text_columns`, the
/// indent goes, and heads and left-aligned cells wrap, so that few lines are added. Where that isn't enough,
/// each row is a list of its cells. Heads of which none says anything are left out.
std::string table_text(const Table& table, std::size_t indent = 0);

/// GitHub's tables.
std::string table_markdown(const Table& table);

/// RFC 4180 but for LF at the end of a record; without the heads above the heads.
std::string table_csv(const Table& table);

/// Without the columns in which no row has anything.
Table without_empty_columns(const Table& table);

/// Without what GitHub's Markdown reads as markup.
std::string markdown_text(std::string_view text);

} // namespace winkhold::base
