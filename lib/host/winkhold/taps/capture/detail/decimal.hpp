/// Numbers as recordings write them.
#pragma once

#include "winkhold/base/time.hpp"

#include <array>
#include <bit>
#include <cstdint>
#include <cstring>
#include <string_view>

namespace winkhold::taps::capture {

/// digits * 10^exponent.
struct Decimal {
    std::uint64_t digits{0};
    int exponent{0};
};

struct SignedDecimal {
    Decimal number;
    bool negative{false};
};

/// Any decimal number: sign, point and exponent are optional; `mark` stands between its whole part and the
/// fraction. Throws Complaint, in which `what` names the number, if it is none.
SignedDecimal parse_decimal(std::string_view text, std::string_view what, char mark = '.');

/// A time that counts 10^`unit_exponent` us, rounded to the nearest us. Throws Complaint if it is no number
/// or further from 0 than latest_us.
TimeUs parse_time_us(std::string_view text, int unit_exponent, std::string_view what, char mark = '.');

/// A voltage that counts 10^`unit_exponent` V. Throws Complaint if it is no number or not finite.
double parse_volts(std::string_view text, int unit_exponent, std::string_view what, char mark = '.');

/// Reads digits[.digits] (with `mark` as the point) at `at` and returns the byte behind, or nullptr if the
/// number is written otherwise. The text must end in a byte that isn't a digit, with 8 readable bytes behind
/// it.
const char* scan_plain(const char* at, Decimal& number, char mark = '.');

/// Takes the exponent of one or two digits at `at`, if there is one; nullptr if it is written otherwise.
const char* scan_exponent(const char* at, Decimal& number);

/// The number, counting 10^`unit_exponent` us, rounded to the nearest us; later than latest_us if out of
/// range.
TimeUs to_time_us(Decimal number, int unit_exponent);

double to_double(Decimal number);

namespace detail {

inline constexpr auto powers_of_ten = [] {
    std::array<std::uint64_t, 20> powers{1};
    for (std::size_t i = 1; i < powers.size(); ++i)
        powers[i] = powers[i - 1] * 10;
    return powers;
}();

/// Those powers of ten that a double holds exactly, so that dividing by them rounds only once.
inline constexpr std::array exact_powers{1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                         1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                         1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

/// For each power of ten, how many of it are latest_us.
inline constexpr auto latest_digits = [] {
    auto digits = powers_of_ten;
    for (std::uint64_t& power : digits)
        power = latest_us / power;
    return digits;
}();

TimeUs round_to_us(Decimal number, int exponent);
double to_double_of_any_size(Decimal number);

/// Eight characters as they stand in memory; those that are digits become 0 to 9.
inline std::uint64_t eight_at(const char* at) {
    static_assert(std::endian::native == std::endian::little);
    std::uint64_t bytes = 0;
    std::memcpy(&bytes, at, sizeof bytes);
    return bytes ^ 0x3030303030303030;
}

/// A bit for each of them that is no digit; right up to the first such byte of 0x8A or more.
inline std::uint64_t others_in(std::uint64_t bytes) {
    return ((bytes + 0x7676767676767676) | bytes) & 0x8080808080808080;
}

/// The number that eight digits make: neighbours are joined, 8 x 1, 4 x 2, 2 x 4 digits.
inline std::uint64_t join_eight(std::uint64_t bytes) {
    bytes = (bytes * 10 + (bytes >> 8)) & 0x00FF00FF00FF00FF;
    bytes = (bytes * 100 + (bytes >> 16)) & 0x0000FFFF0000FFFF;
    return (bytes * 10'000 + (bytes >> 32)) & 0x00000000FFFFFFFF;
}

/// The number that the first `count` of eight digits make, from 1 to 8. Leading zeros take the place of what
/// isn't a digit.
inline std::uint64_t joined(std::uint64_t bytes, int count) {
    return join_eight(bytes << (64 - 8 * count));
}

/// Appends the digits at `at` to `value`, eight at a time; returns the first byte that is none. Long
/// recordings are mostly digits, so this is where reading spends its time.
inline const char* append_digits(const char* at, std::uint64_t& value) {
    for (;;) {
        const std::uint64_t bytes = eight_at(at);
        const int count = std::countr_zero(others_in(bytes)) / 8;
        if (count == 0) return at;
        value = value * powers_of_ten[static_cast<std::size_t>(count)] + joined(bytes, count);
        at += count;
        if (count < 8) return at;
    }
}

/// A number with a point that ends within eight characters, as volts do: looked at once. Returns the byte
/// behind, or nullptr if it is any other.
inline const char* scan_short(const char* at, Decimal& number, char mark) {
    const std::uint64_t bytes = eight_at(at);
    const std::uint64_t others = others_in(bytes);
    const std::uint64_t behind_mark = others & (others - 1);
    if (behind_mark == 0) return nullptr;
    const int whole = std::countr_zero(others) / 8;
    const int end = std::countr_zero(behind_mark) / 8;
    if (at[whole] != mark || end == 1) return nullptr;
    const std::uint64_t whole_bits = (std::uint64_t{1} << 8 * whole) - 1;
    number.digits = joined((bytes & whole_bits) | (bytes >> 8 & ~whole_bits), end - 1);
    number.exponent = whole + 1 - end;
    return at + end;
}

} // namespace detail

inline const char* scan_plain(const char* at, Decimal& number, char mark) {
    if (const char* const behind = detail::scan_short(at, number, mark)) return behind;
    number = {};
    const char* after = detail::append_digits(at, number.digits);
    std::ptrdiff_t count = after - at;
    if (*after == mark) {
        const char* const fraction = after + 1;
        after = detail::append_digits(fraction, number.digits);
        number.exponent = static_cast<int>(fraction - after);
        count += after - fraction;
    }
    return count >= 1 && count <= 19 ? after : nullptr;
}

inline const char* scan_exponent(const char* at, Decimal& number) {
    if ((*at | 0x20) != 'e') return at;
    const bool is_negative = at[1] == '-';
    std::uint64_t exponent = 0;
    const char* const digits = at + (is_negative || at[1] == '+' ? 2 : 1);
    at = detail::append_digits(digits, exponent);
    if (at == digits || at - digits > 2) return nullptr;
    number.exponent += is_negative ? -static_cast<int>(exponent) : static_cast<int>(exponent);
    return at;
}

inline TimeUs to_time_us(Decimal number, int unit_exponent) {
    const int exponent = number.exponent + unit_exponent;
    const auto power = static_cast<std::size_t>(exponent);
    const bool is_whole =
        power < detail::powers_of_ten.size() && number.digits <= detail::latest_digits[power];
    if (!is_whole) return detail::round_to_us(number, exponent);
    return static_cast<TimeUs>(number.digits * detail::powers_of_ten[power]);
}

inline double to_double(Decimal number) {
    const auto digits = static_cast<double>(number.digits);
    const auto power = static_cast<std::size_t>(-number.exponent);
    const bool has_power = power < detail::exact_powers.size();
    return has_power ? digits / detail::exact_powers[power] : detail::to_double_of_any_size(number);
}

} // namespace winkhold::taps::capture
