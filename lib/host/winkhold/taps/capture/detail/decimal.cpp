#include "winkhold/taps/capture/detail/decimal.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace winkhold::taps::capture {
namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

bool names_no_finite_number(std::string_view word) {
    std::string lower(word);
    std::transform(lower.begin(), lower.end(), lower.begin(),
                   [](unsigned char c) { return std::tolower(c); });
    return lower == "nan" || lower == "inf" || lower == "infinity";
}

[[noreturn]] void refuse(std::string_view text, std::string_view what, char mark) {
    if (text.empty()) throw Complaint{fmt::format("{} is empty; write a number", what)};
    const bool has_sign = text.front() == '-' || text.front() == '+';
    if (names_no_finite_number(text.substr(has_sign ? 1 : 0))) {
        throw Complaint{fmt::format("{} is {}; it must be a finite number", what, shown(text))};
    }
    const bool has_other_mark = text.find(mark == ',' ? '.' : ',') != text.npos;
    throw Complaint{fmt::format("{} is {}, which is no number; write it like 12 or 0{}0125{}", what,
                                shown(text), mark,
                                !has_other_mark ? ""
                                : mark == ','   ? ", or leave --decimal-comma out"
                                                : ", with a decimal point instead of the comma (in "
                                                  "CSV, or give --decimal-comma)")};
}

// Takes digits[.digits], with `mark` as the point, from the front of `text` and returns how many digits there
// were. Those beyond the nineteenth are too small to matter.
std::size_t take_digits(std::string_view& text, Decimal& number, char mark) {
    std::size_t count = 0;
    bool in_fraction = false;
    for (; !text.empty(); text.remove_prefix(1)) {
        const char c = text.front();
        if (c == mark && !in_fraction) {
            in_fraction = true;
            continue;
        }
        if (!is_digit(c)) break;
        const bool fits = number.digits < std::numeric_limits<std::uint64_t>::max() / 10;
        if (fits) number.digits = number.digits * 10 + static_cast<std::uint64_t>(c - '0');
        number.exponent += (fits ? 0 : 1) - (in_fraction ? 1 : 0);
        ++count;
    }
    return count;
}

int parse_exponent(std::string_view text) {
    constexpr int farthest = 10'000'000; // beyond any number's digits, far below any overflow
    int exponent = 0;
    const auto [rest, error] = std::from_chars(text.data(), text.data() + text.size(), exponent);
    if (error == std::errc::result_out_of_range) return text.front() == '-' ? -farthest : farthest;
    return std::clamp(exponent, -farthest, farthest);
}

bool is_exponent(std::string_view text) {
    if (!text.empty() && text.front() == '-') text.remove_prefix(1);
    return !text.empty() && std::all_of(text.begin(), text.end(), is_digit);
}

} // namespace

SignedDecimal parse_decimal(const std::string_view text, std::string_view what, char mark) {
    SignedDecimal result;
    std::string_view rest = text;
    if (!rest.empty() && (rest.front() == '-' || rest.front() == '+')) {
        result.negative = rest.front() == '-';
        rest.remove_prefix(1);
    }
    if (take_digits(rest, result.number, mark) == 0) refuse(text, what, mark);
    if (rest.empty()) return result;
    if (rest.front() != 'e' && rest.front() != 'E') refuse(text, what, mark);
    rest.remove_prefix(rest.starts_with("e+") || rest.starts_with("E+") ? 2 : 1);
    if (!is_exponent(rest)) refuse(text, what, mark);
    result.number.exponent += parse_exponent(rest);
    return result;
}

TimeUs parse_time_us(std::string_view text, int unit_exponent, std::string_view what, char mark) {
    const auto [number, negative] = parse_decimal(text, what, mark);
    const TimeUs t_us = to_time_us(number, unit_exponent);
    if (t_us > latest_us) {
        throw Complaint{fmt::format("{} is {}, beyond the ten years a recording may last; is the unit right?",
                                    what, shown(text))};
    }
    return negative ? -t_us : t_us;
}

double parse_volts(std::string_view text, int unit_exponent, std::string_view what, char mark) {
    auto [number, negative] = parse_decimal(text, what, mark);
    number.exponent += unit_exponent;
    const double volts = to_double(number);
    if (!std::isfinite(volts)) {
        throw Complaint{fmt::format("{} is {}, which is out of range; write it in volts", what, shown(text))};
    }
    return negative ? -volts : volts;
}

// What is left for it: fractions of a microsecond, 0, and times out of range.
TimeUs detail::round_to_us(Decimal number, int exponent) {
    const auto power = static_cast<std::size_t>(-exponent);
    if (number.digits == 0) return 0;
    if (exponent >= 0) return latest_us + 1;
    if (power >= powers_of_ten.size()) return 0;
    const std::uint64_t unit = powers_of_ten[power];
    const std::uint64_t us = number.digits / unit + (number.digits % unit >= unit / 2 ? 1 : 0);
    return us > latest_us ? latest_us + 1 : static_cast<TimeUs>(us);
}

double detail::to_double_of_any_size(Decimal number) {
    if (number.digits == 0) return 0;
    return static_cast<double>(number.digits) * std::pow(10.0, number.exponent);
}

} // namespace winkhold::taps::capture
