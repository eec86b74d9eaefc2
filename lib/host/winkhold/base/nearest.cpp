#include "winkhold/base/nearest.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <vector>

namespace winkhold::base {
namespace {

/// The Damerau-Levenshtein distance in its restricted form (no letter is changed twice).
std::size_t changes_between(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before_last(b.size() + 1);
    std::vector<std::size_t> last(b.size() + 1);
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j)
        row[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::swap(before_last, last);
        std::swap(last, row);
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const bool same = a[i - 1] == b[j - 1];
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0 : 1)});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = std::min(row[j], before_last[j - 2] + 1);
        }
    }
    return row[b.size()];
}

} // namespace

std::optional<std::string_view> nearest(std::string_view word, std::span<const std::string_view> known) {
    constexpr std::size_t longest = 64; // nobody's slip of the finger, and it would take long to compare
    if (word.size() > longest) return std::nullopt;
    std::optional<std::string_view> best;
    std::size_t fewest = std::min(word.size() / 3 + 2, word.size());
    for (const std::string_view candidate : known)
        if (const std::size_t changes = changes_between(word, candidate); changes < fewest) {
            fewest = changes;
            best = candidate;
        }
    return best;
}

std::string did_you_mean(std::string_view word, std::span<const std::string_view> known) {
    const std::optional<std::string_view> meant = nearest(word, known);
    return meant ? fmt::format("; did you mean '{}'?", *meant) : "";
}

} // namespace winkhold::base
