/// Comma-separated values (RFC 4180).
#pragma once

#include "winkhold/base/text/detail/text_out.hpp"

#include <concepts>
#include <cstdint>
#include <string_view>

namespace winkhold::base {

/// Records on their way to a stream, passed on as TextOut does it; memory stays flat. Fields that hold a
/// comma, a quote or a line break are quoted; before text that a spreadsheet would take for a formula (= + -
/// @ at its beginning, and no number) stands an apostrophe.
class CsvWriter {
public:
    /// RFC 4180 ends records with CRLF; recordings and what is computed from them end with LF.
    enum class Ends { lf, crlf };

    explicit CsvWriter(std::ostream& out, Ends ends = Ends::lf) : text_(out), ends_(ends) {}

    template <class... Fields>
    void record(const Fields&... fields) {
        (field(fields), ...);
        end_record();
    }

    void field(std::string_view text);
    template <std::integral Number>
    void field(Number number) {
        separate();
        text_.append(static_cast<std::int64_t>(number));
    }
    void end_record();

    void flush() { text_.flush(); }

private:
    void separate();

    TextOut text_;
    Ends ends_;
    bool is_first_{true};
};

} // namespace winkhold::base
