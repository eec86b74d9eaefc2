#include "winkhold/taps/capture/detail/csv_quiet_rows.hpp"

#include "winkhold/taps/capture/detail/decimal.hpp"

#include <algorithm>
#include <bit>
#include <cstring>
#include <limits>

namespace winkhold::taps::capture {
namespace {

using Kind = CsvColumn::Kind;

constexpr std::size_t word_bytes = 8;

std::uint64_t word_at(const char* at) {
    std::uint64_t word = 0;
    std::memcpy(&word, at, sizeof word);
    return word;
}

// Texts of one length compare like these numbers.
std::uint64_t as_number(const char* at, unsigned shift) {
    static_assert(std::endian::native == std::endian::little);
    return __builtin_bswap64(word_at(at)) >> shift;
}

constexpr unsigned shift_for(std::size_t bytes) {
    return bytes < word_bytes ? static_cast<unsigned>(8 * (word_bytes - bytes)) : 0;
}

bool is_digit(char byte) {
    return byte >= '0' && byte <= '9';
}

std::size_t decimals_of(std::string_view number, char mark) {
    const std::size_t point = number.find(mark);
    return point == number.npos ? 0 : number.size() - point - 1;
}

// `digits` written like `number`, as a number again; the largest one if there are too few places.
std::uint64_t written_like(std::string_view number, std::uint64_t digits) {
    std::uint64_t text = 0;
    for (std::size_t i = 0; i < number.size(); ++i) {
        const char byte = number[number.size() - 1 - i];
        const auto written = is_digit(byte) ? '0' + digits % 10 : static_cast<std::uint64_t>(byte);
        if (is_digit(byte)) digits /= 10;
        text |= written << 8 * i;
    }
    return digits == 0 ? text : std::numeric_limits<std::uint64_t>::max();
}

} // namespace

CsvQuietRows::CsvQuietRows(const CsvLayout& layout, const TapRules& rules, const VoltThresholds& thresholds)
    : layout_(layout), rules_(rules), thresholds_(thresholds) {}

bool CsvQuietRows::learn(const char* at, const char* after, Lines lines) {
    row_bytes_ = static_cast<std::size_t>(after - at);
    if (row_bytes_ > most_bytes) return false;
    words_ = (row_bytes_ + word_bytes - 1) / word_bytes;
    text_ = reach_ = checked_ = {};
    volts_count_ = 0;
    std::size_t from = 0;
    for (const CsvColumn& column : layout_.columns) {
        const char* const field = at + from;
        const auto bytes = static_cast<std::size_t>(
            std::find_if(field, after,
                         [&](char c) { return c == layout_.separator || c == '\r' || c == '\n'; }) -
            field);
        const std::string_view text(field, bytes);
        if (column.kind == Kind::time && !learn_time(text, from)) return false;
        if (column.kind == Kind::volts && !learn_volts(text, from, column.tap, lines)) return false;
        for (const char byte : text)
            learn_byte(from++, byte, column.kind != Kind::level && is_digit(byte));
        if (from < row_bytes_) learn_byte(from, at[from], false);
        ++from;
    }
    for (; from < row_bytes_; ++from) // "\r\n" has a byte more
        learn_byte(from, at[from], false);
    learned_ = time_at(at);
    return true;
}

void CsvQuietRows::learn_byte(std::size_t at, char byte, bool any_digit) {
    const auto put = [at](auto& words, std::uint64_t value) { words[at / 8] |= value << at % 8 * 8; };
    put(text_, any_digit ? std::uint64_t{'0'} : static_cast<unsigned char>(byte));
    put(reach_, any_digit ? 0x80 - 10 : 0x80 - 1);
    put(checked_, 0x80);
}

bool CsvQuietRows::learn_time(std::string_view text, std::size_t at) {
    if (text.size() > 2 * word_bytes) return false;
    const auto digits = static_cast<std::size_t>(std::count_if(text.begin(), text.end(), is_digit));
    const int decimals = static_cast<int>(decimals_of(text, layout_.decimal_mark));
    const Decimal beyond{detail::powers_of_ten[digits], -decimals}; // all that have this form
    if (to_time_us(beyond, layout_.time_exponent) > latest_us) return false;
    time_at_ = at;
    time_shift_ = shift_for(text.size());
    time_last_at_ = text.size() < word_bytes ? at : at + text.size() - word_bytes;
    return true;
}

bool CsvQuietRows::learn_volts(std::string_view text, std::size_t at, Lines::Tap tap, Lines lines) {
    const std::size_t decimals = decimals_of(text, layout_.decimal_mark);
    if (text.size() > word_bytes || decimals > VoltThresholds::most_decimals) return false;
    Volts volts{at, shift_for(text.size()), 0, std::numeric_limits<std::uint64_t>::max()};
    const VoltThresholds::Digits& threshold = thresholds_.with_decimals(decimals);
    const bool is_high = rules_.with_level(lines, tap, true) == lines;
    if (text.front() == '-') {
        // Larger digits are lower volts; they are passed over where zero is low.
        if (is_high || threshold.off == 0) return false;
    } else if (is_high) {
        volts.least = written_like(text, threshold.off);
        volts.range -= volts.least;
    } else {
        volts.range = written_like(text, threshold.on) - 1;
    }
    volts_[volts_count_++] = volts;
    return true;
}

inline bool CsvQuietRows::has_form(const char* at) const {
    std::uint64_t differences = 0;
    for (std::size_t i = 0; i < words_; ++i) {
        const std::uint64_t bytes = word_at(at + i * word_bytes) ^ text_[i];
        differences |= ((bytes + reach_[i]) | bytes) & checked_[i];
    }
    return differences == 0;
}

inline bool CsvQuietRows::keeps_lines(const char* at) const {
    bool keeps = true;
    for (std::size_t i = 0; i < volts_count_; ++i)
        keeps &= as_number(at + volts_[i].at, volts_[i].shift) - volts_[i].least <= volts_[i].range;
    return keeps;
}

inline CsvQuietRows::Time CsvQuietRows::time_at(const char* row) const {
    return {as_number(row + time_at_, time_shift_), as_number(row + time_last_at_, time_shift_)};
}

const char* CsvQuietRows::pass(const char* at, const char* end, long long& rows) const {
    const char* const from = at;
    const char* last = at;
    Time ahead = learned_;
    while (end - at >= static_cast<std::ptrdiff_t>(most_bytes + word_bytes) && has_form(at) &&
           keeps_lines(at)) {
        const Time time = time_at(at);
        if (time.first < ahead.first || (time.first == ahead.first && time.last < ahead.last)) break;
        ahead = time;
        last = at;
        at += row_bytes_;
    }
    rows += (last - from) / static_cast<std::ptrdiff_t>(row_bytes_);
    return last;
}

} // namespace winkhold::taps::capture
