/// Sorting of many small numbers in linear time: a sweep sorts one per flash, and a comparing sort would cost
/// more than decoding the flash did.
#pragma once

#include "winkhold/base/wings.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <utility>
#include <vector>

namespace winkhold::measure {

/// Sorts by key(item), a 32-bit number; stable. Takes as many passes of 11 bits as the keys' range needs.
template <class Item, class Key>
void radix_sort(std::vector<Item>& items, Key key) {
    if (items.size() < 2) return;
    constexpr int bits = 11;
    const auto [low, high] = std::minmax_element(
        items.begin(), items.end(), [&](const Item& a, const Item& b) { return key(a) < key(b); });
    const std::int64_t least = key(*low);
    const auto range = static_cast<std::uint64_t>(key(*high) - least);
    std::vector<Item> sorted(items.size());
    for (int shift = 0; shift < 33 && (range >> shift) != 0; shift += bits) {
        const auto digit = [&](const Item& item) {
            return (static_cast<std::uint64_t>(key(item) - least) >> shift) & ((1u << bits) - 1);
        };
        std::array<std::size_t, (1u << bits)> place{};
        for (const Item& item : items)
            ++place[digit(item)];
        std::size_t before = 0;
        for (std::size_t& start : place)
            before += std::exchange(start, before);
        for (const Item& item : items)
            sorted[place[digit(item)]++] = item;
        items.swap(sorted);
    }
}

inline void radix_sort(std::vector<std::int32_t>& numbers) {
    radix_sort(numbers, [](std::int32_t number) { return std::int64_t{number}; });
}

} // namespace winkhold::measure
