/// What the taps say at one moment, and what the decoder answers.
#pragma once

#include <stdint.h>

namespace winkhold {
namespace core {

/// The steady answer. The values are a mask (left 1, right 2), so `hazard` is both.
enum class Indication : uint8_t { off = 0, left = 1, right = 2, hazard = 3 };

/// The two turn-signal taps, usable as an index.
enum class Side : uint8_t { left = 0, right = 1 };

/// Right for left, left for right.
constexpr Side other(Side side) {
    return side == Side::left ? Side::right : Side::left;
}

constexpr Side both_sides[] = {Side::left, Side::right};

/// None, one or both of the sides. The bits are those of Indication and of Lines: left 1, right 2.
class Sides {
public:
    constexpr Sides() = default;
    /// Just this one; implicit, so that a side is a set of sides.
    constexpr Sides(Side side) : bits_(static_cast<uint8_t>(static_cast<uint8_t>(side) + 1u)) {}
    /// From bits: left 1, right 2; all others are dropped.
    constexpr explicit Sides(uint8_t bits) : bits_(static_cast<uint8_t>(bits & 3u)) {}

    /// Left and right.
    static constexpr Sides both() { return Sides(uint8_t{3}); }
    /// `side` is one of them.
    constexpr bool has(Side side) const { return (bits_ & Sides(side).bits_) != 0; }
    /// Not empty.
    constexpr bool any() const { return bits_ != 0; }
    /// Takes `side` in; without effect if it is in already.
    constexpr void add(Side side) { bits_ = static_cast<uint8_t>(bits_ | Sides(side).bits_); }
    /// Takes `side` out; without effect if it is not in.
    constexpr void remove(Side side) { bits_ = static_cast<uint8_t>(bits_ & ~Sides(side).bits_); }
    /// Left 1, right 2.
    constexpr uint8_t bits() const { return bits_; }

private:
    uint8_t bits_{0};
};

constexpr bool operator!=(Sides a, Sides b) {
    return a.bits() != b.bits();
}
constexpr bool operator==(Sides a, Sides b) {
    return a.bits() == b.bits();
}

/// True while `indication` shows `side`.
constexpr bool shows(Indication indication, Side side) {
    return (static_cast<uint8_t>(indication) & (side == Side::left ? 1u : 2u)) != 0;
}

/// All taps as levels, true = lamp voltage present. Packed, so that one comparison says "nothing changed".
class Lines {
public:
    /// Bit of each tap. Supply: the flasher's feed, high while the key is on.
    enum Tap : uint8_t { left = 1, right = 2, brake = 4, tail = 8, supply = 16 };

    constexpr Lines() = default;
    /// From a port's bits, as Tap numbers them.
    constexpr explicit Lines(uint8_t bits) : bits_(bits) {}

    /// The tap reads high.
    constexpr bool has(Tap tap) const { return (bits_ & tap) != 0; }
    /// The side's turn-signal tap reads high.
    constexpr bool has(Side side) const { return has(side == Side::left ? left : right); }
    /// The same levels, but for `tap`, which reads `high`.
    constexpr Lines with(Tap tap, bool high) const {
        return Lines(static_cast<uint8_t>(high ? (bits_ | tap) : (bits_ & ~tap)));
    }
    /// As Tap numbers them.
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
