/// One record of a CSV file, as RFC 4180 has it, or with semicolons instead of its commas.
#pragma once

#include "winkhold/base/wings.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace winkhold::taps::capture {

/// The fields of a record, without their quotes and the spaces around them. Reused from record to record.
class CsvRow {
public:
    /// What stands between the fields: ',' or ';'.
    void set_separator(char separator) { separator_ = separator; }

    /// Splits the record at `at`; lines up to `end` are at hand. Returns the first byte behind it, or nullptr
    /// if a quoted field goes on beyond `end`. Throws Complaint if this is no CSV.
    const char* split(const char* at, const char* end);

    std::size_t size() const { return ends_.size(); }
    std::string_view operator[](std::size_t field) const;

    /// True for a line with nothing in it.
    bool is_blank() const { return size() == 1 && (*this)[0].empty(); }

private:
    const char* append_quoted(const char* at, const char* end);
    const char* append_plain(const char* at);

    char separator_{','};
    std::string text_;              // all fields, one behind the other
    std::vector<std::size_t> ends_; // where in it each ends
};

} // namespace winkhold::taps::capture
