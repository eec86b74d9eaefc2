/// One field of a CSV file, as RFC 4180 has it, or with another separator than its comma.
#pragma once

#include "winkhold/base/wings.hpp"

#include <string>
#include <string_view>

namespace winkhold::taps::capture {

class CsvFields {
public:
    explicit CsvFields(char separator) : separator_(separator) {}

    /// Reads the field at `at`, without its quotes and the spaces around it; lines up to `end` are at hand.
    /// Returns the separator or line end behind it, or nullptr if the field, being in quotes, goes on beyond
    /// `end`. `text` lasts until the next call. Throws Complaint if this is no CSV.
    const char* take(const char* at, const char* end, std::string_view& text);

    char separator() const { return separator_; }

private:
    const char* take_quoted(const char* at, const char* end);
    const char* skip_gap(const char* at) const;
    bool is_gap(char c) const { return c == ' ' || (c == '\t' && c != separator_); }
    std::string_view trimmed(std::string_view text) const;

    char separator_;
    std::string unquoted_;
};

/// The byte behind the line end at `at`, "\n" or "\r\n"; nullptr if there is none.
inline const char* behind_line_end(const char* at) {
    at += *at == '\r' ? 1 : 0;
    return *at == '\n' ? at + 1 : nullptr;
}

} // namespace winkhold::taps::capture
