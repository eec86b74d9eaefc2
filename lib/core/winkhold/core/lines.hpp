/// What the taps say at one moment, and what the decoder answers.
#pragma once

#include <stdint.h>

namespace winkhold {
namespace core {

/// The steady answer. The values are a mask (left 1, right 2), so `hazard` is both.
enum class Indication : uint8_t { off = 0, left = 1, right = 2, hazard = 3 };

/// The two turn-signal taps, usable as an index.
enum class Side : uint8_t { left = 0, right = 1 };

constexpr Side other(Side side) {
    return side == Side::left ? Side::right : Side::left;
}

/// True while `indication` shows `side`.
constexpr bool shows(Indication indication, Side side) {
    return (static_cast<uint8_t>(indication) & (side == Side::left ? 1u : 2u)) != 0;
}

/// All taps as levels, true = lamp voltage present. Packed, so that one comparison says "nothing changed".
class Lines {
public:
    enum Tap : uint8_t { left = 1, right = 2, brake = 4, tail = 8, supply = 16 };

    constexpr Lines() = default;
    constexpr explicit Lines(uint8_t bits) : bits_(bits) {}

    constexpr bool has(Tap tap) const { return (bits_ & tap) != 0; }
    constexpr bool has(Side side) const { return has(side == Side::left ? left : right); }
    constexpr Lines with(Tap tap, bool high) const {
        return Lines(static_cast<uint8_t>(high ? (bits_ | tap) : (bits_ & ~tap)));
    }
    constexpr uint8_t bits() const { return bits_; }

private:
    uint8_t bits_{0};
};

constexpr bool operator==(Lines a, Lines b) {
    return a.bits() == b.bits();
}
constexpr bool operator!=(Lines a, Lines b) {
    return a.bits() != b.bits();
}

} // namespace core
} // namespace winkhold
