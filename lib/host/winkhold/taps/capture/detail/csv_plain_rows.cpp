#include "winkhold/taps/capture/detail/csv_plain_rows.hpp"

#include "winkhold/taps/capture/detail/bytes.hpp"
#include "winkhold/taps/capture/detail/decimal.hpp"

#include <algorithm>
#include <cstring>

namespace winkhold::taps::capture {
namespace {

using Kind = CsvColumn::Kind;

// Multiplying by it moves the bits 0, 16, 32 and 48 to 48, 49, 50 and 51.
constexpr std::uint64_t gather = 1ull << 48 | 1ull << 33 | 1ull << 18 | 1ull << 3;

} // namespace

CsvPlainRows::CsvPlainRows(const CsvLayout& layout, const TapRules& rules, bool ends_in_crlf)
    : rules_(rules), below_zero_is_off_(rules.is_off(0)), thresholds_(rules),
      time_exponent_(layout.time_exponent), separator_(layout.separator), decimal_mark_(layout.decimal_mark),
      ends_in_crlf_(ends_in_crlf), quiet_rows_(layout, rules, thresholds_) {
    const CsvColumn* const end = layout.columns.data() + layout.columns.size();
    for (const CsvColumn* column = layout.columns.data(); column != end;) {
        const CsvColumn* next = column + 1;
        if (column->kind == Kind::level) {
            const CsvColumn* const limit = column + std::min<std::ptrdiff_t>(end - column, most_levels);
            next =
                std::find_if(column, limit, [](const CsvColumn& other) { return other.kind != Kind::level; });
        }
        const char line_end = ends_in_crlf ? '\r' : '\n';
        const char delimiter = next == end ? line_end : separator_;
        if (column->kind == Kind::level)
            steps_.push_back(levels_step(column, next, delimiter, rules));
        else
            steps_.push_back({.kind = column->kind, .tap = column->tap, .delimiter = delimiter});
        column = next;
    }
}

CsvPlainRows::Step CsvPlainRows::levels_step(const CsvColumn* first, const CsvColumn* last, char delimiter,
                                             const TapRules& rules) const {
    Step step{.kind = Kind::level, .delimiter = delimiter, .other_taps = 0xFF};
    const auto count = static_cast<std::size_t>(last - first);
    step.bytes = 2 * count;
    for (std::size_t i = 0; i < count; ++i) {
        const std::uint64_t text = '0' | static_cast<std::uint64_t>(i + 1 == count ? delimiter : separator_)
                                             << 8;
        step.fixed_text |= text << 16 * i;
        step.fixed_bits |= std::uint64_t{0xFFFE} << 16 * i;
        step.digit_bits |= std::uint64_t{1} << 16 * i;
        step.other_taps &= static_cast<std::uint8_t>(~first[i].tap);
        for (std::size_t digits = 0; digits < step.levels.size(); ++digits) {
            const bool high = (digits >> i & 1) != 0;
            step.levels[digits] = rules.with_level(Lines(step.levels[digits]), first[i].tap, high).bits();
        }
    }
    return step;
}

inline Lines CsvPlainRows::with_volts(Lines lines, Lines::Tap tap, Decimal number) const {
    const auto decimals = static_cast<std::size_t>(-number.exponent);
    if (decimals > VoltThresholds::most_decimals) return rules_.with_volts(lines, tap, to_double(number));
    const VoltThresholds::Digits& threshold = thresholds_.with_decimals(decimals);
    if (number.digits >= threshold.on) return rules_.with_level(lines, tap, true);
    return number.digits < threshold.off ? rules_.with_level(lines, tap, false) : lines;
}

CsvPlainRows::Progress CsvPlainRows::read(const char* at, const char* end, CsvReading& reading,
                                          std::span<Edge> edges) {
    Progress progress;
    CsvReading ahead = reading;
    int quiet_rows = 0;
    int patience = few_quiet_rows;
    while (at != end && progress.edges < edges.size()) {
        CsvReading row = ahead;
        const char* after = read_row(at, row);
        if (after == nullptr || row.t_us < ahead.t_us) break;
        edges[progress.edges] = {row.t_us, row.lines};
        const bool is_edge = row.lines != ahead.lines;
        progress.edges += is_edge ? 1 : 0;
        quiet_rows = is_edge ? 0 : quiet_rows + 1;
        ++progress.rows;
        if (quiet_rows >= patience) {
            quiet_rows = 0;
            const long long rows = progress.rows;
            if (quiet_rows_.learn(at, after, row.lines)) after = quiet_rows_.pass(after, end, progress.rows);
            patience = progress.rows - rows >= few_quiet_rows ? few_quiet_rows : 2 * patience;
        }
        ahead = row;
        at = after;
    }
    reading = ahead;
    progress.at = at;
    return progress;
}

// Returns the first byte behind the row, or nullptr if it isn't plain.
inline const char* CsvPlainRows::read_row(const char* at, CsvReading& reading) const {
    for (const Step& step : steps_) {
        switch (step.kind) {
        case Kind::level: {
            std::uint64_t bytes = 0;
            std::memcpy(&bytes, at, sizeof bytes);
            if ((bytes & step.fixed_bits) != step.fixed_text) return nullptr;
            const std::size_t digits = (bytes & step.digit_bits) * gather >> 48 & (step.levels.size() - 1);
            reading.lines = Lines((reading.lines.bits() & step.other_taps) | step.levels[digits]);
            at += step.bytes;
            continue;
        }
        case Kind::time: {
            Decimal number;
            at = scan_plain(at, number, decimal_mark_);
            if (at == nullptr) return nullptr;
            reading.t_us = to_time_us(number, time_exponent_);
            if (reading.t_us > latest_us) return nullptr;
            break;
        }
        case Kind::volts: {
            // Signs come and go in noise about zero, so no jump depends on them.
            const bool is_negative = *at == '-';
            Decimal number;
            at = scan_plain(at + is_negative, number, decimal_mark_);
            if (at == nullptr) return nullptr;
            number.digits = is_negative ? 0 : number.digits;
            if (is_negative && !below_zero_is_off_) return nullptr;
            reading.lines = with_volts(reading.lines, step.tap, number);
            break;
        }
        case Kind::ignored:
            while (is_text(*at) && *at != separator_ && *at != '"')
                ++at;
            break;
        }
        if (*at++ != step.delimiter) return nullptr;
    }
    if (!ends_in_crlf_) return at;
    return *at == '\n' ? at + 1 : nullptr;
}

} // namespace winkhold::taps::capture
