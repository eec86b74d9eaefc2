#include "winkhold/taps/capture/detail/csv_levels.hpp"

#include <bit>

namespace winkhold::taps::capture {

CsvLevels::CsvLevels(std::span<const CsvColumn> columns, char separator, const TapRules& rules)
    : bytes_(2 * columns.size() - 1) {
    static_assert(std::endian::native == std::endian::little);
    for (std::size_t i = 0; i < columns.size(); ++i) {
        const bool is_last = i + 1 == columns.size();
        const std::uint64_t text = '0' | (is_last ? 0 : static_cast<std::uint64_t>(separator) << 8);
        fixed_text_ |= text << 16 * i;
        fixed_bits_ |= std::uint64_t{is_last ? 0xFEu : 0xFFFEu} << 16 * i;
        digit_bits_ |= std::uint64_t{1} << 16 * i;
        other_taps_ &= static_cast<std::uint8_t>(~columns[i].tap);
        for (std::size_t digits = 0; digits < levels_.size(); ++digits) {
            const bool high = (digits >> i & 1) != 0;
            levels_[digits] = rules.with_level(Lines(levels_[digits]), columns[i].tap, high).bits();
        }
    }
}

} // namespace winkhold::taps::capture
