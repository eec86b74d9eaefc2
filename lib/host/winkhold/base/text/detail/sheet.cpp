#include "winkhold/base/text/detail/sheet.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"

#include <fmt/format.h>

namespace winkhold::base {

std::string sheet_text(const Sheet& sheet) {
    std::string text = fmt::format("{}\n{}", wrapped("", "  ", legible(sheet.title)),
                                   wrapped("", "", legible(sheet.verdict)));
    for (const SheetSection& section : sheet.sections) {
        text += fmt::format("\n{}", wrapped("", "  ", section.title));
        for (const std::string& sentence : section.sentences)
            text += wrapped("  - ", "    ", legible(sentence));
        const Table table = without_empty_columns(section.table);
        if (!table.rows.empty()) text += table_text(table, 2);
    }
    return text + "\n" + std::string(caution);
}

std::string sheet_markdown(const Sheet& sheet) {
    std::string text = fmt::format("# {}\n\n{}\n", markdown_text(sheet.title), markdown_text(sheet.verdict));
    for (const SheetSection& section : sheet.sections) {
        text += fmt::format("\n## {}\n\n", section.title);
        for (const std::string& sentence : section.sentences)
            text += fmt::format("- {}\n", markdown_text(sentence));
        const Table table = without_empty_columns(section.table);
        if (table.rows.empty()) continue;
        if (!section.sentences.empty()) text += "\n";
        text += table_markdown(table);
    }
    return text + fmt::format("\n> {}\n", caution_line());
}

} // namespace winkhold::base
