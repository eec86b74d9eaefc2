// What keeps a vehicle from a board, whatever its outputs.
#include "winkhold/bike/pack/detail/board_plan.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/error.hpp"

#include <fmt/format.h>

namespace winkhold::bike {

void refuse_what_is_unsafe(const Vehicle& vehicle, const BoardPlan& plan) {
    for (const Vehicle::Example& example : vehicle.examples())
        throw InputError(
            at_line(example.place.file, example.place.line,
                    fmt::format("[{}] is still the example's; make it yours and delete this line "
                                "before anything of it goes onto a bike",
                                legible(example.section))));
    // A brake must not wait, and a cancelled signal must not stay: common practice, no source. Longer ones
    // are for the bench.
    constexpr core::Span most_settle_us = 20'000;
    constexpr core::Span most_hold_us = 1'200'000;
    const auto at_most = [&](const char* field, core::Span value_us, core::Span most_us,
                             const char* because) {
        if (value_us > most_us)
            refuse(vehicle, field,
                   fmt::format("is {}; on a bike it is {} at most, {}", format_duration(value_us),
                               format_duration(most_us), because));
    };
    at_most("decoder.settle", plan.settings.settle_us, most_settle_us,
            "since the stop lamps wait for it, too");
    at_most("decoder.hold", plan.settings.hold_us, most_hold_us,
            "since so long a cancelled signal stays lit");
}

} // namespace winkhold::bike
