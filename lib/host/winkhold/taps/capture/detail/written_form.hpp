/// How a field is written: where its digits are.
#pragma once

#include "winkhold/base/wings.hpp"

#include <array>
#include <cstdint>
#include <cstring>
#include <string_view>

namespace winkhold::taps::capture {

/// Nearly all fields of a column are written alike, so that one look tells where the next field starts. Takes
/// texts shorter than `Words` times eight bytes.
template <std::size_t Words>
class WrittenForm {
public:
    /// Learns from `text`; `behind` is the byte that ends it. False, and nothing fits, if it is too long.
    bool learn(std::string_view text, char behind) {
        *this = {};
        if (text.size() >= Words * word) return false;
        checked_ = {};
        for (std::size_t i = 0; i < text.size(); ++i)
            learn_byte(i, text[i], text[i] >= '0' && text[i] <= '9');
        learn_byte(text.size(), behind, false);
        return true;
    }

    bool fits(const char* at) const {
        std::uint64_t differences = 0;
        for (std::size_t i = 0; i < Words; ++i) {
            std::uint64_t bytes = 0;
            std::memcpy(&bytes, at + i * word, word);
            bytes ^= text_[i];
            differences |= ((bytes + reach_[i]) | bytes) & checked_[i];
        }
        return differences == 0;
    }

private:
    static constexpr std::size_t word = sizeof(std::uint64_t);
    using Bytes = std::array<std::uint64_t, Words>;

    static constexpr Bytes nothing() {
        Bytes all{};
        all[0] = ~std::uint64_t{0};
        return all;
    }

    void learn_byte(std::size_t at, char byte, bool any_digit) {
        const auto put = [at](Bytes& words, unsigned char value) {
            words[at / word] |= std::uint64_t{value} << at % word * 8;
        };
        put(text_, any_digit ? '0' : static_cast<unsigned char>(byte));
        put(reach_, any_digit ? 0x80 - 10 : 0x80 - 1);
        put(checked_, 0x80);
    }

    // Exclusive-or `text_`, plus `reach_`, bytes have their top bit set, one of `checked_`, where they
    // differ: a digit may then be up to 9, any other byte must be 0.
    Bytes text_{};
    Bytes reach_{};
    Bytes checked_{nothing()};
};

} // namespace winkhold::taps::capture
