/// The rows of a CSV file.
#pragma once

#include "winkhold/taps/capture/detail/csv_field.hpp"
#include "winkhold/taps/capture/detail/csv_layout.hpp"
#include "winkhold/taps/capture/detail/csv_levels.hpp"
#include "winkhold/taps/capture/detail/csv_volts.hpp"
#include "winkhold/taps/capture/detail/written_number.hpp"

#include <array>
#include <cstdint>
#include <functional>
#include <span>

namespace winkhold::taps::capture {

/// Reads a row at once if it is written as nearly all are, and else field by field.
class CsvRows {
public:
    /// `line` is that of the first row.
    CsvRows(const CsvLayout& layout, const RecordingOptions& options, long long line);
    CsvRows(const CsvRows&) = delete;
    CsvRows& operator=(const CsvRows&) = delete;

    /// How far read() came.
    struct Progress {
        const char* at{nullptr};
        std::size_t edges{0};
    };

    /// Reads rows from `at` on, until `end`, until `edges` is full, or up to a row with a quoted field that
    /// goes on beyond `end`. Throws Complaint at a bad row.
    Progress read(const char* at, const char* end, std::span<Edge> edges);

    /// The line of the row that is read.
    const long long& line() const { return line_; }
    bool has_rows() const { return rows_ > 0; }
    TimeUs end_us() const { return now_.t_us - origin_us_; }
    std::vector<Caveat> caveats() const;

private:
    struct Moment {
        TimeUs t_us{0}; // as the file counts
        Lines lines{};
    };

    struct TapVolts {
        Lines::Tap tap;
        double volts;
    };

    // Of a column, or of level columns side by side.
    struct Step {
        CsvColumn::Kind kind{};
        int exponent{0}; // of a time
        WrittenNumber number;
        CsvVolts volts;
        CsvLevels levels;
    };

    // Rows as nearly all are written, and a row of any form.
    void read_plain_rows(Progress& progress, const char* end, std::span<Edge> edges);
    bool read_any_row(Progress& progress, const char* end, std::span<Edge> edges);

    const char* read_plain_row(const char* at, Moment& row);
    const char* read_plain(Step& step, const char* at, Moment& row);
    const char* behind_plain_rest(const char* at) const;

    const char* read_fields(const char* first, const char* end, Moment& row);
    void read_text(const CsvColumn& column, std::string_view text, Moment& row);
    void read_tap(const CsvColumn& column, std::string_view text, Moment& row);
    bool parse_level(std::string_view text, const std::string& label) const;
    TimeUs time_of_sample(std::string_view text, const CsvColumn& column) const;
    const char* pass_rest(const char* row, const char* at, const char* end);
    const char* behind_empty_row(const char* at) const;
    void begin(TimeUs t_us);

    [[noreturn]] void refuse_time(TimeUs t_us) const;
    std::size_t count_fields(const char* at, const char* end);
    bool has_other_field_count(const char* row, const char* end);
    [[noreturn]] void refuse_field_count(const char* row, const char* end);

    CsvLayout layout_;
    TapRules rules_;
    VoltThresholds thresholds_;
    bool below_zero_is_off_;
    CsvFields fields_;
    char separator_;
    char decimal_mark_;
    std::span<const CsvColumn> needed_; // those up to the last that is no ignored one
    std::vector<Step> steps_;           // what they take

    std::function<void(TimeUs, Lines::Tap, double)>
        on_volts_;                // hears each row, if set: then none is read at once
    std::vector<TapVolts> heard_; // in the row that is read

    long long line_;
    std::uint64_t rows_{0};
    std::size_t least_fields_{0}; // of a row, as of the first one
    std::size_t fields_ahead_{0}; // of the row that was read in full last
    TimeUs origin_us_{0};         // where the recording's time begins
    TimeUs latest_us_{latest_us}; // as the file counts
    Moment now_;
    bool had_light_{false}; // of a side
    UnreadTaps unread_;
};

} // namespace winkhold::taps::capture
