/// All lamps but the stop lamps: frames of the core onto registers and pins.
#pragma once

#include "bike.hpp"
#include "pins.hpp"
#include "registers.hpp"
#include "table.hpp"

#include <util/atomic.h>

namespace winkhold {
namespace firmware {

constexpr uint8_t group_count = sizeof(bike::groups) / sizeof(bike::groups[0]);

/// Pins of lamps are outputs, and dark.
inline void start_lamps() {
    for (const PinLamp& lamp : bike::pin_lamps)
        make_output(lamp.pin, false);
}

constexpr bool play_alike(const core::LampGroup& a, const core::LampGroup& b) {
    return a.job == b.job && a.side == b.side && a.count == b.count && a.full == b.full &&
           a.dimmed == b.dimmed && a.pattern.fills == b.pattern.fills && a.pattern.block == b.pattern.block &&
           a.pattern.step_us == b.pattern.step_us && a.pattern.stay_us == b.pattern.stay_us;
}
/// The first group that plays like this one: they have the same frames, which are worked out once.
constexpr uint8_t first_alike(uint8_t group) {
    uint8_t first = 0;
    while (!play_alike(bike::groups[first], bike::groups[group]))
        ++first;
    return first;
}
constexpr Table<first_alike, group_count> alike;

/// What the lamps of one run show.
inline void show_run(const RegisterRun& run, core::GroupFrame frame, RegisterBits& outputs) {
    uint8_t* byte = outputs.bytes + (run.first_output >> 3);
    uint8_t bit = static_cast<uint8_t>(1u << (run.first_output & 7u));
    for (uint8_t i = 0; i < run.count; ++i) {
        if (frame.brightness(static_cast<uint8_t>(run.first_lamp + i)) != 0) *byte |= bit;
        bit = static_cast<uint8_t>(bit << 1);
        if (bit != 0) continue;
        bit = 1;
        ++byte;
    }
}

/// What one group's lamps show.
inline void show_group(uint8_t group, core::GroupFrame frame, RegisterBits& outputs) {
    for (const RegisterRun& run : bike::register_runs)
        if (run.group == group) show_run(run, frame, outputs);
    for (const PinLamp& lamp : bike::pin_lamps) {
        if (lamp.group != group || lamp.pin == Pin::none) continue;
        ATOMIC_BLOCK(ATOMIC_FORCEON) {
            show_level(lamp.pin, frame.brightness(lamp.lamp));
        }
    }
}

/// As the sequence has it, or all dark. Interrupts on.
inline void show_lamps(const core::Sequence& sequence, bool dark, RegisterChain& registers) {
    RegisterBits outputs{};
    for (uint8_t first = 0; first < group_count; ++first) {
        if (alike.at[first] != first || bike::groups[first].job == core::Job::stop) continue;
        const core::GroupFrame frame = dark ? core::GroupFrame{} : sequence.frame(first);
        for (uint8_t group = first; group < group_count; ++group)
            if (alike.at[group] == first) show_group(group, frame, outputs);
    }
    ATOMIC_BLOCK(ATOMIC_FORCEON) {
        registers.show(outputs);
    }
}

} // namespace firmware
} // namespace winkhold
