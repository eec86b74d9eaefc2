#include "report/sheet.hpp"

#include "report/legible.hpp"
#include "report/wrapped.hpp"
#include "winkhold/host/report/names.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::host {
namespace {

constexpr std::size_t columns = 80;
constexpr std::size_t between = 2;

/// Characters, not bytes; good enough for what stands in a vehicle file.
std::size_t width(std::string_view text) {
    return static_cast<std::size_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xc0) != 0x80; }));
}

Table without_empty_columns(const Table& table) {
    Table kept;
    kept.rows.resize(table.rows.size());
    for (std::size_t column = 0; column < table.head.size(); ++column) {
        if (std::all_of(table.rows.begin(), table.rows.end(),
                        [&](const auto& row) { return row[column].empty(); }))
            continue;
        kept.head.push_back(table.head[column]);
        for (std::size_t row = 0; row < table.rows.size(); ++row)
            kept.rows[row].push_back(legible(table.rows[row][column]));
    }
    return kept;
}

/// The last column is wrapped, so that a sentence may stand there.
std::string table_text(const Table& table) {
    std::vector<std::size_t> widths;
    for (std::size_t column = 0; column < table.head.size(); ++column) {
        widths.push_back(width(table.head[column]));
        for (const auto& row : table.rows)
            widths.back() = std::max(widths.back(), width(row[column]));
    }
    const auto line = [&](const std::vector<std::string>& row) {
        std::string begin = "  ";
        for (std::size_t column = 0; column + 1 < row.size(); ++column)
            begin += row[column] + std::string(widths[column] - width(row[column]) + between, ' ');
        const std::string lead(width(begin), ' ');
        std::string text = wrapped(begin, lead, row.back(), std::max(columns, begin.size() + 20));
        text.erase(text.find_last_not_of(" \n") + 1);
        return text + "\n";
    };
    std::string text = line(table.head);
    for (const auto& row : table.rows)
        text += line(row);
    return text;
}

std::string markdown_cell(std::string_view text) {
    std::string cell;
    for (const char c : legible(text)) {
        if (std::string_view("\\|`*<").find(c) != std::string_view::npos) cell += '\\';
        cell += c;
    }
    return cell;
}

std::string markdown_row(const std::vector<std::string>& cells) {
    std::string row = "|";
    for (const std::string& cell : cells)
        row += fmt::format(" {} |", markdown_cell(cell));
    return row + "\n";
}

} // namespace

std::string sheet_text(const Sheet& sheet) {
    std::string text = legible(sheet.title) + "\n\n" + wrapped("", "", sheet.verdict, columns);
    for (const SheetSection& section : sheet.sections) {
        text += "\n" + section.title + "\n";
        for (const std::string& sentence : section.sentences)
            text += wrapped("  - ", "    ", legible(sentence), columns);
        const Table table = without_empty_columns(section.table);
        if (!table.rows.empty()) text += table_text(table);
    }
    return text + "\n" + std::string(caution);
}

std::string sheet_markdown(const Sheet& sheet) {
    std::string text = fmt::format("# {}\n\n{}\n", markdown_cell(sheet.title), markdown_cell(sheet.verdict));
    for (const SheetSection& section : sheet.sections) {
        text += "\n## " + section.title + "\n\n";
        for (const std::string& sentence : section.sentences)
            text += "- " + markdown_cell(sentence) + "\n";
        const Table table = without_empty_columns(section.table);
        if (table.rows.empty()) continue;
        if (!section.sentences.empty()) text += "\n";
        text += markdown_row(table.head) + "|";
        for (std::size_t i = 0; i < table.head.size(); ++i)
            text += "---|";
        text += "\n";
        for (const auto& row : table.rows)
            text += markdown_row(row);
    }
    return text + "\n> " + caution_line() + "\n";
}

std::string caution_line() {
    std::string line(caution.substr(0, caution.size() - 1));
    std::replace(line.begin(), line.end(), '\n', ' ');
    return line;
}

std::string csv_record(const std::vector<std::string>& fields) {
    std::string record;
    for (const std::string& field : fields) {
        if (&field != &fields.front()) record += ',';
        if (field.find_first_of(",\"\r\n") == std::string::npos) {
            record += field;
            continue;
        }
        record += '"';
        for (const char c : field)
            record += c == '"' ? "\"\"" : std::string(1, c);
        record += '"';
    }
    return record + "\r\n";
}

} // namespace winkhold::host
