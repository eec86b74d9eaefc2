/// The first lines of a CSV file, split into fields as often as it takes to understand them.
#pragma once

#include "winkhold/taps/capture/detail/csv_field.hpp"
#include "winkhold/taps/capture/detail/text_input.hpp"

#include <optional>
#include <string>
#include <vector>

namespace winkhold::taps::capture {

/// A record and where it is. Lines that begin with #, ; or % are comments, and no records.
struct CsvRecord {
    std::vector<std::string> fields;
    std::string complaint; ///< why it is no record, or empty
    std::size_t behind{0}; ///< offset of the byte behind it
    long long line{1};
    long long lines{1}; ///< that it takes
    bool is_comment{false};

    bool is_blank() const;
    /// True if its fields that aren't empty are numbers, and there are any.
    bool is_row() const;
    bool has_number_at(std::size_t field) const;
};

class CsvLines {
public:
    CsvLines(TextInput& input, char separator) : input_(input), fields_(separator) {}

    /// The next record, reading on as far as that takes; nothing at the end of the input, or when the head
    /// has become too long for one.
    std::optional<CsvRecord> next();

    /// As next(), but not a comment and not blank.
    std::optional<CsvRecord> next_filled();

    char separator() const { return fields_.separator(); }

private:
    bool have_line();
    void split(CsvRecord& record);

    TextInput& input_;
    CsvFields fields_;
    std::size_t at_{0}; // offset in the input's block
    long long line_{1};
};

} // namespace winkhold::taps::capture
