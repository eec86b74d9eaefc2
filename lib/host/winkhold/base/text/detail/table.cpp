#include "winkhold/base/text/detail/table.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/text/detail/csv_writer.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <sstream>

namespace winkhold::base {
namespace {

std::string markdown_row(const std::vector<std::string>& cells) {
    std::string row = "|";
    for (const std::string& cell : cells)
        row += fmt::format(" {} |", markdown_text(cell));
    return row + "\n";
}

std::vector<std::string> full_row(const Table& table, std::vector<std::string> cells) {
    cells.resize(table.columns.size());
    return cells;
}

} // namespace

Table without_empty_columns(const Table& table) {
    Table kept;
    kept.between = table.between;
    kept.rows.resize(table.rows.size());
    for (std::size_t row = 0; row < table.rows.size(); ++row)
        if (table.rows[row].size() == 1) kept.rows[row] = table.rows[row];
    for (std::size_t column = 0; column < table.columns.size(); ++column) {
        const auto is_empty = [&](const auto& row) { return row.size() == 1 || row[column].empty(); };
        if (std::all_of(table.rows.begin(), table.rows.end(), is_empty)) continue;
        kept.columns.push_back(table.columns[column]);
        for (std::size_t row = 0; row < table.rows.size(); ++row)
            if (table.rows[row].size() > 1) kept.rows[row].push_back(table.rows[row][column]);
    }
    return kept;
}

std::string markdown_text(std::string_view text) {
    const std::string clean = legible(text);
    std::string cell;
    for (std::size_t i = 0; i < clean.size(); ++i) {
        // addresses would become links by themselves
        const bool is_address = clean.compare(i, 3, "://") == 0 ||
                                (clean[i] == '.' && i >= 3 && clean.compare(i - 3, 3, "www") == 0);
        if (is_address || std::string_view("\\|`*<[]@").find(clean[i]) != std::string_view::npos)
            cell += '\\';
        cell += clean[i];
    }
    return cell;
}

std::string table_markdown(const Table& table) {
    std::vector<std::string> heads;
    std::string rule = "|";
    std::string over;
    for (const Column& column : table.columns) {
        const bool is_new = !column.over.empty() && column.over != over;
        heads.push_back(is_new ? fmt::format("{}: {}", column.over, column.head) : column.head);
        over = column.over;
        rule += column.align == Align::right ? "--:|" : "---|";
    }
    std::string text = markdown_row(heads) + rule + "\n";
    for (const auto& row : table.rows)
        text += markdown_row(full_row(table, row));
    return text;
}

std::string table_csv(const Table& table) {
    std::ostringstream out;
    CsvWriter csv(out);
    for (const Column& column : table.columns)
        csv.field(column.head);
    csv.end_record();
    for (const auto& row : table.rows) {
        for (const std::string& cell : full_row(table, row))
            csv.field(cell);
        csv.end_record();
    }
    csv.flush();
    return out.str();
}

} // namespace winkhold::base
