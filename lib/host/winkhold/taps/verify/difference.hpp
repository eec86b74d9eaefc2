/// Where an answer first departs from the expected one.
#pragma once

#include "winkhold/taps/trace/timeline.hpp"

#include <optional>
#include <string_view>

namespace winkhold::taps {

/// The first place at which answer and expectation part.
struct Difference {
    /// How they part there.
    enum class Kind {
        early,   ///< the right change, but before the tolerance
        late,    ///< the right change, but after the tolerance
        other,   ///< another indication than expected
        missing, ///< a change is expected and none comes any more
        extra,   ///< a change comes and none is expected any more
    };
    Kind kind{};
    std::optional<IndicationChange> expected;
    std::optional<IndicationChange> got;

    /// The earlier of the two moments.
    TimeUs t_us() const;
};

/// Its word in tables and JSON.
constexpr std::string_view name(Difference::Kind kind) {
    constexpr std::string_view names[] = {"early", "late", "other", "missing", "extra"};
    return names[static_cast<std::size_t>(kind)];
}

/// Compares change by change. A change may be `tolerance_us` early or late; equality passes. The first change
/// tells the indication at the start, and counts like any other.
std::optional<Difference> first_difference(const Timeline& expected, const Timeline& answer,
                                           TimeUs tolerance_us);

} // namespace winkhold::taps
