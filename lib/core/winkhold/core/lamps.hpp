/// Lamp groups and their patterns: what the firmware's author owns as constexpr data.
#pragma once

#include "winkhold/core/lines.hpp"
#include "winkhold/core/settings.hpp"

namespace winkhold {
namespace core {

/// What a group lights for. Its two brightnesses mean:
///
///     job     full                              dimmed
///     turn    lit part of a flash               while its side is not shown (a lamp that is a marker, too)
///     stop    brake on                          tail on, brake off
///     tail    tail on                           tail on, its side shown
///     marker  while the board runs              its side shown
enum class Job : uint8_t { turn, stop, tail, marker };

/// How a turn group fills at the start of a flash, and how it ends. The first block is lit at once.
struct Pattern {
    /// What grows step by step while the pattern plays.
    enum class Fills : uint8_t {
        lamps,      ///< block by block from lamp 0 on; number them from the middle of the vehicle outward
        brightness, ///< all lamps at once, by so much brighter each step
    };

    Fills fills{Fills::lamps};
    /// Lamps, or levels of brightness, added each step. Range: [1, 65535]; beyond the group's: all at once.
    uint16_t block{0xffff};
    /// From one block to the next. Range: [0, 5 s]. 20-60 ms are common practice, no source. Lit after t:
    /// (t / step + 1) blocks. Shortened if a flash is too short for all blocks.
    Span step_us{0};
    /// Full for this long after the last block came, then dark. 0: until the flash ends. Range: [0, 5 s].
    Span stay_us{0};
    /// Own rate without a rate: dark for this long before it plays again. Range: [0, 5 s].
    Span blank_us{0};
};

/// All lamps of the group at once.
constexpr Pattern together() {
    return Pattern{};
}
/// So many lamps more every `step_us`, from lamp 0 on.
constexpr Pattern in_blocks(uint16_t lamps, Span step_us) {
    Pattern pattern;
    pattern.block = lamps;
    pattern.step_us = step_us;
    return pattern;
}
/// One lamp more every `step_us`: a sequence from the middle of the vehicle outward.
constexpr Pattern outward(Span step_us) {
    return in_blocks(1, step_us);
}
/// All lamps together, brighter by `levels` (of 255) every `step_us`.
constexpr Pattern fading_in(uint16_t levels, Span step_us) {
    Pattern pattern = in_blocks(levels, step_us);
    pattern.fills = Pattern::Fills::brightness;
    return pattern;
}
/// The same, full for `stay_us` and then dark for `blank_us`.
constexpr Pattern ending(Pattern pattern, Span stay_us, Span blank_us) {
    pattern.stay_us = stay_us;
    pattern.blank_us = blank_us;
    return pattern;
}

/// Lamps that play as one.
struct LampGroup {
    Job job{Job::turn};
    /// Where it is: left, right, or hazard for both (turn: shows either side).
    Indication side{Indication::left};
    uint16_t count{1}; ///< lamps; at least 1
    Pattern pattern{}; ///< turn only: no other job waits for a frame
    uint8_t full{255};
    uint8_t dimmed{0};

    /// What the pattern fills: lamps or levels of brightness.
    constexpr uint16_t to_fill() const {
        return pattern.fills == Pattern::Fills::lamps ? count : uint16_t{full};
    }
    /// The first block fills it, or no time passes between blocks: there is no sequence to be seen.
    constexpr bool all_at_once() const { return pattern.block >= to_fill() || pattern.step_us == 0; }
    /// Stop: what all its lamps show, given the settled taps. Nothing but these decides, so a board may light
    /// them before it steps anything else.
    constexpr uint8_t stop_level(Lines settled) const {
        if (settled.has(Lines::brake)) return full;
        return settled.has(Lines::tail) ? dimmed : uint8_t{0};
    }
    /// Blocks until it is full, at least 1.
    constexpr uint16_t blocks() const {
        uint16_t blocks = 1;
        for (uint16_t left = to_fill(); left > pattern.block;
             left = static_cast<uint16_t>(left - pattern.block))
            ++blocks;
        return blocks;
    }
};

/// Why check() refuses a lamp group: the first thing that is wrong with it.
enum class LampError : uint8_t {
    none,
    no_side,
    no_lamps,
    empty_block,
    step_out_of_range,
    stay_out_of_range,
    blank_out_of_range,
    fill_too_long,
    only_turn_has_a_pattern,
};

/// First thing wrong with a group, or none: a static_assert in firmware, a refusal on the host.
constexpr LampError check(const LampGroup& group) {
    const Pattern& p = group.pattern;
    if (group.side == Indication::off) return LampError::no_side;
    if (group.count == 0) return LampError::no_lamps;
    if (p.block == 0) return LampError::empty_block;
    if (p.step_us > built_in::longest_play_us) return LampError::step_out_of_range;
    if (p.stay_us > built_in::longest_play_us) return LampError::stay_out_of_range;
    if (p.blank_us > built_in::longest_play_us) return LampError::blank_out_of_range;
    Span fill_us = p.stay_us;
    for (uint16_t block = group.blocks(); block > 1; --block) {
        fill_us = static_cast<Span>(fill_us + p.step_us);
        if (fill_us > built_in::longest_play_us) return LampError::fill_too_long;
    }
    if (group.job != Job::turn && (!group.all_at_once() || p.stay_us != 0))
        return LampError::only_turn_has_a_pattern;
    return LampError::none;
}

} // namespace core
} // namespace winkhold
