#include "winkhold/base/text/detail/csv_writer.hpp"

#include <string>

namespace winkhold::base {
namespace {

/// As it stands in a record.
std::string quoted_if_needed(std::string_view text) {
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
    text_.append(quoted_if_needed(text));
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
