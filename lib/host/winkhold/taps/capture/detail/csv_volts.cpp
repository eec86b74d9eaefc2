#include "winkhold/taps/capture/detail/csv_volts.hpp"

#include <limits>

namespace winkhold::taps::capture {
namespace {

// `digits` written like `number`, as a number again; the largest one if there are too few places.
std::uint64_t written_like(std::string_view number, std::uint64_t digits) {
    std::uint64_t text = 0;
    for (std::size_t i = 0; i < number.size(); ++i) {
        const char byte = number[number.size() - 1 - i];
        const bool is_digit = byte >= '0' && byte <= '9';
        text |= (is_digit ? '0' + digits % 10 : static_cast<std::uint64_t>(byte)) << 8 * i;
        if (is_digit) digits /= 10;
    }
    return digits == 0 ? text : std::numeric_limits<std::uint64_t>::max();
}

} // namespace

CsvVolts::Found CsvVolts::read_otherwise(const char* at, char mark, bool is_below_zero, Lines lines) {
    Decimal volts;
    const char* behind = scan_plain(at, volts, mark);
    if (behind == nullptr) return {nullptr, lines};
    const std::string_view text(at, static_cast<std::size_t>(behind - at));
    const auto decimals = static_cast<std::size_t>(-volts.exponent - exponent_);
    form_ = {};
    const bool has_exponent = (*behind | 0x20) == 'e';
    if (decimals <= VoltThresholds::most_decimals && !has_exponent && form_.learn(text, *behind)) {
        const VoltThresholds::Digits& digits = thresholds_->with_decimals(decimals);
        shift_ = static_cast<unsigned>(8 * (sizeof(std::uint64_t) - text.size()));
        size_ = text.size();
        on_ = written_like(text, digits.on);
        off_ = written_like(text, digits.off);
    }
    behind = scan_exponent(behind, volts);
    volts.exponent += exponent_;
    if (is_below_zero) volts.digits = 0;
    return {behind, with_volts(lines, volts)};
}

Lines CsvVolts::with_volts(Lines lines, Decimal volts) const {
    const auto decimals = static_cast<std::size_t>(-volts.exponent);
    if (decimals > VoltThresholds::most_decimals) return rules_->with_volts(lines, tap_, to_double(volts));
    const VoltThresholds::Digits& threshold = thresholds_->with_decimals(decimals);
    if (volts.digits >= threshold.on) return rules_->with_level(lines, tap_, true);
    return volts.digits < threshold.off ? rules_->with_level(lines, tap_, false) : lines;
}

} // namespace winkhold::taps::capture
