/// Columns of 0 and 1 side by side, read together.
#pragma once

#include "winkhold/taps/capture/detail/csv_layout.hpp"

#include <array>
#include <cstdint>
#include <cstring>
#include <span>

namespace winkhold::taps::capture {

/// Up to four columns are looked at as the eight bytes "0,0,0,0,", of which each digit's lowest bit is free.
/// Those bits, gathered, look up what the taps say.
class CsvLevels {
public:
    static constexpr std::ptrdiff_t most = 4;

    CsvLevels() = default;
    CsvLevels(std::span<const CsvColumn> columns, char separator, const TapRules& rules);

    /// Returns the first byte behind the last digit, or nullptr if the text at `at` is anything else.
    const char* read(const char* at, Lines& lines) const {
        // Multiplying by it moves the bits 0, 16, 32 and 48 to 48, 49, 50 and 51.
        constexpr std::uint64_t gather = 1ull << 48 | 1ull << 33 | 1ull << 18 | 1ull << 3;
        std::uint64_t bytes = 0;
        std::memcpy(&bytes, at, sizeof bytes);
        if ((bytes & fixed_bits_) != fixed_text_) return nullptr;
        const std::size_t digits = (bytes & digit_bits_) * gather >> 48 & (levels_.size() - 1);
        lines = Lines(static_cast<std::uint8_t>((lines.bits() & other_taps_) | levels_[digits]));
        return at + bytes_;
    }

private:
    std::uint64_t fixed_bits_{0};
    std::uint64_t fixed_text_{0};
    std::uint64_t digit_bits_{0};
    std::size_t bytes_{0};
    std::uint8_t other_taps_{0xFF};
    std::array<std::uint8_t, 1 << most> levels_{};
};

} // namespace winkhold::taps::capture
