/// Voltages of one column of a CSV file.
#pragma once

#include "winkhold/taps/capture/detail/decimal.hpp"
#include "winkhold/taps/capture/detail/volt_thresholds.hpp"
#include "winkhold/taps/capture/detail/written_form.hpp"

#include <bit>

namespace winkhold::taps::capture {

/// Reads voltages without a sign. Those that are written like the one ahead stand in the order of their
/// texts, so that they needn't be turned into numbers.
class CsvVolts {
public:
    CsvVolts() = default;
    /// Voltages count 10^`exponent` V. `thresholds` and `rules` outlive this.
    CsvVolts(Lines::Tap tap, int exponent, const VoltThresholds& thresholds, const TapRules& rules)
        : thresholds_(&thresholds), rules_(&rules), exponent_(exponent), tap_(tap) {}

    /// What a voltage makes of the taps, and the first byte behind it, or nullptr if it is in an unusual
    /// form.
    struct Found {
        const char* behind;
        Lines lines;
    };

    /// The voltage at `at`; `is_below_zero`, it is taken for 0. As many bytes as TextInput::overscan are
    /// readable.
    Found read(const char* at, char mark, bool is_below_zero, Lines lines) {
        if (!form_.fits(at)) return read_otherwise(at, mark, is_below_zero, lines);
        // signs come and go in noise about zero, so no jump depends on them
        const std::uint64_t text = as_number(at, shift_) & (std::uint64_t{is_below_zero} - 1);
        if (text >= on_)
            lines = rules_->with_level(lines, tap_, true);
        else if (text < off_)
            lines = rules_->with_level(lines, tap_, false);
        return {at + size_, lines};
    }

private:
    // Texts of one length compare like these numbers.
    static std::uint64_t as_number(const char* at, unsigned shift) {
        static_assert(std::endian::native == std::endian::little);
        std::uint64_t bytes = 0;
        std::memcpy(&bytes, at, sizeof bytes);
        return __builtin_bswap64(bytes) >> shift;
    }

    Found read_otherwise(const char* at, char mark, bool is_below_zero, Lines lines);
    Lines with_volts(Lines lines, Decimal volts) const;

    const VoltThresholds* thresholds_{nullptr};
    const TapRules* rules_{nullptr};
    int exponent_{0};
    Lines::Tap tap_{};

    WrittenForm<1> form_;
    unsigned shift_{0};
    std::size_t size_{0};
    std::uint64_t on_{0}; // the thresholds, written in this form
    std::uint64_t off_{0};
};

} // namespace winkhold::taps::capture
