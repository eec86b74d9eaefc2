/// Numbers that follow each other in a file, as those of one column do.
#pragma once

#include "winkhold/taps/capture/detail/decimal.hpp"
#include "winkhold/taps/capture/detail/written_form.hpp"

namespace winkhold::taps::capture {

/// Reads numbers without a sign. Those that are written like the one ahead are read at once.
class WrittenNumber {
public:
    /// A number and the first byte behind it, or nullptr if it is in an unusual form.
    struct Found {
        const char* behind;
        std::uint64_t digits; // not as a Decimal, which would have to pass through memory
        int exponent;
    };

    /// The number at `at`. As many bytes as TextInput::overscan are readable.
    Found read(const char* at, char mark) {
        if (!form_.fits(at)) return read_otherwise(at, mark);
        const std::uint64_t first = joined(at, first_shift_) * first_weight_;
        const std::uint64_t digits = first + joined(at + second_at_, second_shift_);
        return has_exponent_ ? with_exponent(at + size_, digits) : Found{at + size_, digits, decimals_};
    }

private:
    static std::uint64_t joined(const char* at, unsigned shift) {
        return detail::join_eight(detail::eight_at(at) << shift);
    }

    Found read_otherwise(const char* at, char mark);
    Found with_exponent(const char* at, std::uint64_t digits) const {
        Decimal number{digits, decimals_};
        const char* const behind = scan_exponent(at, number);
        return {behind, digits, number.exponent};
    }

    WrittenForm<2> form_;

    // Its digits are two numbers of up to eight, side by side or with the mark between them.
    std::uint64_t first_weight_{0};
    unsigned first_shift_{0};
    unsigned second_shift_{0};
    std::size_t second_at_{0};
    std::size_t size_{0};
    int decimals_{0}; // as an exponent
    bool has_exponent_{false};
};

} // namespace winkhold::taps::capture
