/// Rows of a CSV file in which nothing happens, as nearly all rows of a sampled recording.
#pragma once

#include "winkhold/taps/capture/detail/csv_layout.hpp"
#include "winkhold/taps/capture/detail/volt_thresholds.hpp"

#include <array>
#include <cstdint>

namespace winkhold::taps::capture {

/// Passes over rows that say what the row ahead of them said. Such rows are written alike, digit for digit,
/// so numbers needn't be read: those of one form stand in the order of their text.
class CsvQuietRows {
public:
    CsvQuietRows(const CsvLayout& layout, const TapRules& rules, const VoltThresholds& thresholds);

    /// Learns the form of the plain row from `at` to `after`, behind which the taps are `lines`. False if
    /// rows in this form can't be passed over: they are long, or have numbers of unusual length.
    bool learn(const char* at, const char* after, Lines lines);

    /// Passes over rows from `at` on, which follow the row learned from, until `end` or the first row in
    /// another form, with an earlier time than the row ahead, or with other lines. Returns the start of the
    /// last row it could have passed over, or `at`, and adds the rows ahead of that to `rows`.
    const char* pass(const char* at, const char* end, long long& rows) const;

private:
    static constexpr std::size_t most_bytes = 64;
    static constexpr std::size_t most_words = most_bytes / 8;

    /// As text, of up to sixteen bytes.
    struct Time {
        std::uint64_t first;
        std::uint64_t last;
    };

    /// A voltage and where it may lie, as text of up to eight bytes.
    struct Volts {
        std::size_t at;
        unsigned shift;
        std::uint64_t least;
        std::uint64_t range;
    };

    bool learn_volts(std::string_view text, std::size_t at, Lines::Tap tap, Lines lines);
    bool learn_time(std::string_view text, std::size_t at);
    void learn_byte(std::size_t at, char byte, bool any_digit);
    bool has_form(const char* at) const;
    bool keeps_lines(const char* at) const;
    Time time_at(const char* row) const;

    CsvLayout layout_;
    TapRules rules_;
    VoltThresholds thresholds_;

    // Bytes of a row, exclusive-or `text`, plus `reach`, have their top bit set, one of `checked`, where they
    // differ from the form: a digit may then be up to 9, any other byte must be 0.
    std::array<std::uint64_t, most_words> text_{};
    std::array<std::uint64_t, most_words> reach_{};
    std::array<std::uint64_t, most_words> checked_{};
    std::size_t words_{0};
    std::size_t row_bytes_{0};

    std::size_t time_at_{0};
    std::size_t time_last_at_{0};
    unsigned time_shift_{0};
    Time learned_{};

    std::array<Volts, named_taps.size()> volts_{};
    std::size_t volts_count_{0};
};

} // namespace winkhold::taps::capture
