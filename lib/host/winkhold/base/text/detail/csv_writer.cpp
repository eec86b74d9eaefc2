#include "winkhold/base/text/detail/csv_writer.hpp"

#include "winkhold/base/detail/legible.hpp"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>
#include <string>

namespace winkhold::base {
namespace {

/// A spreadsheet would run it: text, not a number, that begins like a formula.
bool begins_like_a_formula(std::string_view text) {
    text.remove_prefix(std::min(text.find_first_not_of("\t\r\n"), text.size()));
    if (text.empty() || std::string_view("=+-@").find(text[0]) == std::string_view::npos) return false;
    double number = 0;
    const char* const end = text.data() + text.size();
    const auto [rest, error] = std::from_chars(text.data() + (text[0] == '+' ? 1 : 0), end, number);
    return text != "-" && (error != std::errc{} || rest != end);
}

/// As it stands in a record.
std::string quoted_if_needed(std::string_view text) {
    if (begins_like_a_formula(text)) return quoted_if_needed(fmt::format("'{}", text));
    if (text.find_first_of(",\"\r\n") == std::string_view::npos) return std::string(text);
    std::string quoted = "\"";
    for (const char c : text) {
        if (c == '"') quoted += '"';
        quoted += c;
    }
    return quoted + '"';
}

} // namespace

void CsvWriter::field(std::string_view text) {
    separate();
    text_.append(quoted_if_needed(with_unfit(text, [](std::uint32_t code) {
        const bool is_blank = code == '\n' || code == '\r' || code == '\t';
        return std::string(1, is_blank ? static_cast<char>(code) : '?');
    })));
}

void CsvWriter::end_record() {
    text_.append(std::string_view(ends_ == Ends::crlf ? "\r\n" : "\n"));
    is_first_ = true;
}

void CsvWriter::separate() {
    if (!is_first_) text_.append(std::string_view(","));
    is_first_ = false;
}

} // namespace winkhold::base
