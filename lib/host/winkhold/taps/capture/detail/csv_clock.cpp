#include "winkhold/taps/capture/detail/csv_clock.hpp"

#include "winkhold/taps/capture/detail/complaint.hpp"
#include "winkhold/taps/capture/detail/csv_units.hpp"

#include <algorithm>
#include <cctype>

namespace winkhold::taps::capture {
namespace {

__extension__ using Wide = unsigned __int128;

// Enough for 1 THz and for days between samples.
constexpr int most_power = 15;

struct Fraction {
    std::uint64_t numerator;
    std::uint64_t denominator;
};

// number * 10^exponent, without the zeros at its end.
std::optional<Fraction> fraction(Decimal number, int exponent) {
    exponent += number.exponent;
    if (number.digits == 0) return std::nullopt;
    for (; number.digits % 10 == 0; number.digits /= 10)
        ++exponent;
    if (exponent > most_power || exponent < -most_power) return std::nullopt;
    const std::uint64_t power = detail::powers_of_ten[static_cast<std::size_t>(std::abs(exponent))];
    if (exponent < 0) return Fraction{number.digits, power};
    if (number.digits > ~std::uint64_t{0} / power) return std::nullopt;
    return Fraction{number.digits * power, 1};
}

struct Rate {
    std::string_view unit;
    int exponent;
};

constexpr Rate rates[] = {{"", 0},      {"hz", 0},   {"khz", 3},  {"mhz", 6},  {"ghz", 9},      {"s/s", 0},
                          {"ks/s", 3},  {"ms/s", 6}, {"gs/s", 9}, {"sa/s", 0}, {"ksa/s", 3},    {"msa/s", 6},
                          {"gsa/s", 9}, {"sps", 0},  {"ksps", 3}, {"msps", 6}, {"samples/s", 0}};

// Takes a number from the front of `text`.
std::optional<Decimal> take_number(std::string_view& text) {
    const std::size_t digits = std::min(text.find_first_not_of("0123456789.,"), text.size());
    std::size_t end = digits;
    if (end + 1 < text.size() && (text[end] == 'e' || text[end] == 'E') &&
        std::string_view("+-0123456789").find(text[end + 1]) != std::string_view::npos)
        end = std::min(text.find_first_not_of("0123456789", end + 2), text.size());
    const std::string_view number = text.substr(0, end);
    text.remove_prefix(end);
    while (text.starts_with(' '))
        text.remove_prefix(1);
    try {
        return parse_decimal(number, "a number", number.find(',') == number.npos ? '.' : ',').number;
    } catch (const Complaint&) {
        return std::nullopt;
    }
}

// Its letters, small: "Sample Rate" and "samplerate" are one.
std::string letters(std::string_view text) {
    std::string result;
    for (const unsigned char c : text)
        if (std::isalpha(c)) result += static_cast<char>(std::tolower(c));
    return result;
}

bool starts_with_any(std::string_view text, std::initializer_list<std::string_view> starts) {
    return std::any_of(starts.begin(), starts.end(),
                       [text](std::string_view start) { return text.starts_with(start); });
}

} // namespace

std::optional<SampleClock> SampleClock::of_interval(Decimal interval) {
    const auto us = fraction(interval, 6);
    if (!us) return std::nullopt;
    return SampleClock(us->numerator, us->denominator);
}

std::optional<SampleClock> SampleClock::of_rate(Decimal hz) {
    const auto per_us = fraction(hz, -6);
    if (!per_us) return std::nullopt;
    return SampleClock(per_us->denominator, per_us->numerator);
}

TimeUs SampleClock::at_us_of_fraction(std::uint64_t sample) const {
    const Wide us = Wide{sample} * numerator_ / denominator_;
    return us > latest_us ? latest_us + 1 : static_cast<TimeUs>(us);
}

std::optional<SampleClock> read_clock(std::string_view key, std::string_view value) {
    const std::string name = letters(key);
    const bool is_rate = starts_with_any(
        name, {"samplerate", "samplingrate", "samplefrequency", "samplingfrequency", "abtastrate"});
    const bool is_interval = starts_with_any(
        name, {"sampleinterval", "samplinginterval", "sampleperiod", "samplingperiod", "timeincrement"});
    if (!is_rate && !is_interval) return std::nullopt;
    while (value.starts_with(' ') || value.starts_with('\t'))
        value.remove_prefix(1);
    while (value.ends_with(' ') || value.ends_with('\r'))
        value.remove_suffix(1);
    auto number = take_number(value);
    if (!number) return std::nullopt;
    const std::string_view unit = value.empty() ? take_apart(key).unit_text : value;
    if (is_interval) {
        const CsvUnit known = read_unit(unit.empty() ? "s" : unit);
        if (known.of != CsvUnit::Of::time) return std::nullopt;
        number->exponent += known.exponent - 6;
        return SampleClock::of_interval(*number);
    }
    const auto* const known = std::find_if(std::begin(rates), std::end(rates),
                                           [&](const Rate& rate) { return rate.unit == lower(unit); });
    if (known == std::end(rates)) return std::nullopt;
    number->exponent += known->exponent;
    return SampleClock::of_rate(*number);
}

} // namespace winkhold::taps::capture
