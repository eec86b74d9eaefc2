/// What the firmware of one bike has to know, worked out from the vehicle file: which tap is read where, and
/// which output lights which lamp.
#pragma once

#include "winkhold/bike/electrics/supply.hpp"
#include "winkhold/bike/lamps/lamp_plan.hpp"
#include "winkhold/bike/pins/chip_pins.hpp"
#include "winkhold/measure/front_end/front_end.hpp"

namespace winkhold::bike {

struct PlannedTap {
    /// Of the converter, of 1024: high from `high` on, low up to `low`.
    struct Counts {
        int high;
        int low;
    };
    TappedLine line;
    const ChipPin* pin;
    bool lit_high;                ///< lit while the pin is high
    std::optional<Counts> counts; ///< none: a digital input
};

/// Outputs side by side that switch lamps of one group: lamp by lamp, output by output.
struct PlannedRun {
    int group;
    int first_lamp;
    int first_output; ///< of the chain, from 0: the first of the register next to the board
    int count;
};

struct PlannedPin {
    int group;
    int lamp; ///< whose brightness it shows
    const ChipPin* pin;
};

struct PlannedRegisters {
    int outputs{0}; ///< of the whole chain; 0: there are no registers
    int level{255}; ///< brightness of all that are lit
    const ChipPin* latch{nullptr};
    const ChipPin* enable{nullptr};
    long shift_hz{4'000'000};
};

struct BoardPlan {
    core::Settings settings;
    LampPlan lamps;
    std::vector<PlannedTap> taps;
    PlannedRegisters registers;
    std::vector<PlannedRun> runs;
    std::vector<PlannedPin> pins;
    int park_after_s{0}; ///< all dark for so long: the board sleeps; 0: never
};

/// Throws InputError (file:line, field) for whatever the firmware can't do or should not: see pack_of().
BoardPlan board_plan_of(const Vehicle& vehicle);

/// Refuses for a field of the vehicle, like "board.tap_pins", where it stands.
[[noreturn]] void refuse(const Vehicle& vehicle, const std::string& field, const std::string& why);

// outputs_plan.cpp
/// Fills in registers, runs and pins. `taps` are there.
void plan_outputs(const Vehicle& vehicle, const Board& board, BoardPlan& plan);

// refusals.cpp
/// What keeps a whole vehicle from a board, whatever its outputs.
void refuse_what_is_unsafe(const Vehicle& vehicle, const BoardPlan& plan);

/// The firmware's: PWM and looks at each tap. Unit: Hz, us.
inline constexpr double firmware_pwm_hz = 16e6 / 8 / 256;
inline constexpr int firmware_tick_us = 128;

} // namespace winkhold::bike
