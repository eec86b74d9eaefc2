/// Random streams that depend on (seed, trial) alone, so results never depend on threads.
#pragma once

#include "winkhold/base/wings.hpp"

#include <cstdint>
#include <limits>

namespace winkhold::measure {

/// A stream of 64-bit numbers: xoshiro256++ (Blackman and Vigna, public domain), seeded through splitmix64.
/// Works as engine for Boost.Random's distributions, which give the same numbers on every standard library.
class RandomStream {
public:
    /// As the standard's engines name it.
    using result_type = std::uint64_t;

    /// The stream of this trial; any two streams are independent of each other.
    RandomStream(std::uint64_t seed, std::uint64_t trial) {
        std::uint64_t mixed = mix(seed) ^ (trial * 0x9e3779b97f4a7c15u);
        for (std::uint64_t& word : state_)
            word = mix(mixed += 0x9e3779b97f4a7c15u);
    }

    /// The least that comes, as the standard asks of an engine.
    static constexpr result_type min() { return 0; }
    /// The most that comes, as the standard asks of an engine.
    static constexpr result_type max() { return std::numeric_limits<result_type>::max(); }

    /// The next 64 bits.
    result_type operator()() {
        const std::uint64_t result = rotate(state_[0] + state_[3], 23) + state_[0];
        const std::uint64_t shifted = state_[1] << 17;
        state_[2] ^= state_[0];
        state_[3] ^= state_[1];
        state_[1] ^= state_[2];
        state_[0] ^= state_[3];
        state_[2] ^= shifted;
        state_[3] = rotate(state_[3], 45);
        return result;
    }

    /// Uniform in [0, 1).
    double unit() { return static_cast<double>((*this)() >> 11) * 0x1p-53; }

    /// Uniform among least, least + 1, ..., most.
    std::int64_t whole(std::int64_t least, std::int64_t most) {
        return least + static_cast<std::int64_t>(unit() * static_cast<double>(most - least + 1));
    }

private:
    static constexpr std::uint64_t rotate(std::uint64_t x, int by) { return (x << by) | (x >> (64 - by)); }
    static constexpr std::uint64_t mix(std::uint64_t z) {
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
        return z ^ (z >> 31);
    }

    std::uint64_t state_[4];
};

} // namespace winkhold::measure
