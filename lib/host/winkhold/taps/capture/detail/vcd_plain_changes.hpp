/// The form in which nearly all value changes come, read in one pass.
#pragma once

#include "winkhold/taps/capture/detail/vcd_definitions.hpp"
#include "winkhold/taps/capture/detail/written_number.hpp"

#include <array>
#include <cstdint>
#include <span>

namespace winkhold::taps::capture {

/// The moment that is being read.
struct VcdMoment {
    std::uint64_t ticks{0};
    TimeUs t_us{0};
    Lines lines{};    ///< as changed so far
    Lines reported{}; ///< by the latest edge
};

/// Reads time stamps and 0 or 1 for signals of one bit that have a code of one character.
class VcdPlainChanges {
public:
    VcdPlainChanges(const VcdDefinitions& definitions, const std::vector<PlacedTap>& taps,
                    const TapRules& rules);

    /// How far read() came.
    struct Progress {
        const char* at{nullptr};
        long long lines{0};
        std::size_t edges{0};
    };

    /// Reads words from `at` on, until `end`, until `edges` is full, or up to the first word of any other
    /// form or a time stamp that is wrong. An edge is complete, and put out, when the next moment begins.
    Progress read(const char* at, const char* end, VcdMoment& moment, std::span<Edge> edges);

private:
    // What a bit says about the taps, by the code of its signal.
    struct Change {
        bool is_plain{false};
        std::uint8_t other_taps{0xFF};
        std::array<std::uint8_t, 2> levels{};
    };

    const char* read_ticks(const char* at, VcdMoment& moment);

    VcdTimescale timescale_;
    WrittenNumber number_; // of a time stamp
    std::array<Change, 256> changes_{};
};

} // namespace winkhold::taps::capture
