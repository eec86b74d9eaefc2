/// The form in which nearly all rows come, read in one pass.
#pragma once

#include "winkhold/taps/capture/detail/csv_layout.hpp"
#include "winkhold/taps/capture/detail/csv_quiet_rows.hpp"
#include "winkhold/taps/capture/detail/decimal.hpp"

#include <array>
#include <cstdint>
#include <span>

namespace winkhold::taps::capture {

/// What a row says.
struct CsvReading {
    TimeUs t_us{0};
    Lines lines{};
};

/// Reads rows of bare numbers, where a level is a single digit and lines end like the header. The columns are
/// turned into steps once, so that a row costs little more than looking at its bytes.
class CsvPlainRows {
public:
    CsvPlainRows(const CsvLayout& layout, const TapRules& rules, bool ends_in_crlf);

    /// How far read() came.
    struct Progress {
        const char* at{nullptr};
        long long rows{0};
        std::size_t edges{0};
    };

    /// Reads rows from `at` on, until `end`, until `edges` is full, or up to the first row in any other form
    /// or with a time before that of the row ahead. `reading` is the row ahead of `at` at first, and the last
    /// row read then.
    Progress read(const char* at, const char* end, CsvReading& reading, std::span<Edge> edges);

private:
    static constexpr std::size_t most_levels = 4;

    // After so many rows in which nothing happened, more are expected; after twice as many each time it was
    // in vain, as where noise comes in numbers of any length.
    static constexpr int few_quiet_rows = 8;

    // A column, or up to four level columns side by side.
    struct Step {
        CsvColumn::Kind kind{};
        Lines::Tap tap{}; // of volts
        char delimiter{}; // behind it

        // Levels are matched together, as the eight bytes "0,0,0,0,", of which each digit's lowest bit is
        // free. Those bits, gathered, look up what the taps say.
        std::size_t bytes{0};
        std::uint64_t fixed_bits{0};
        std::uint64_t fixed_text{0};
        std::uint64_t digit_bits{0};
        std::uint8_t other_taps{0};
        std::array<std::uint8_t, 1 << most_levels> levels{};
    };

    Step levels_step(const CsvColumn* first, const CsvColumn* last, char delimiter,
                     const TapRules& rules) const;
    Lines with_volts(Lines lines, Lines::Tap tap, Decimal number) const;
    const char* read_row(const char* at, CsvReading& reading) const;

    TapRules rules_;
    bool below_zero_is_off_;
    VoltThresholds thresholds_;
    int time_exponent_;
    char separator_;
    char decimal_mark_;
    bool ends_in_crlf_;
    std::vector<Step> steps_;
    CsvQuietRows quiet_rows_;
};

} // namespace winkhold::taps::capture
