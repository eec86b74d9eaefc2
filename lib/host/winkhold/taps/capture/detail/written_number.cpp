#include "winkhold/taps/capture/detail/written_number.hpp"

#include <algorithm>

namespace winkhold::taps::capture {
namespace {

constexpr std::size_t most_digits = 8; // of one part

unsigned shift_for(std::size_t digits) {
    return static_cast<unsigned>(8 * (most_digits - digits));
}

} // namespace

WrittenNumber::Found WrittenNumber::read_otherwise(const char* at, char mark) {
    Decimal number;
    const char* const behind = scan_plain(at, number, mark);
    if (behind == nullptr) return {nullptr, 0, 0};
    const std::string_view text(at, static_cast<std::size_t>(behind - at));
    const std::size_t whole = std::min(text.find(mark), text.size());
    const bool has_mark = whole < text.size();
    const std::size_t second = has_mark ? text.size() - whole - 1 : std::min(text.size(), most_digits);
    const std::size_t first = has_mark ? whole : text.size() - second;
    form_ = {};
    if (first <= most_digits && second <= most_digits && second > 0 && form_.learn(text, *behind)) {
        first_shift_ = first == 0 ? 0 : shift_for(first);
        first_weight_ = first == 0 ? 0 : detail::powers_of_ten[second];
        second_at_ = text.size() - second;
        second_shift_ = shift_for(second);
        size_ = text.size();
        decimals_ = number.exponent;
        has_exponent_ = (*behind | 0x20) == 'e';
    }
    const char* const end = scan_exponent(behind, number);
    return {end, number.digits, number.exponent};
}

} // namespace winkhold::taps::capture
