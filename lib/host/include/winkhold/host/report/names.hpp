/// Names of the core's values, as every output spells them.
#pragma once

#include "winkhold/core/decoder.hpp"

#include <string_view>

namespace winkhold::host {

constexpr std::string_view name(core::Indication indication) {
    constexpr std::string_view names[] = {"off", "left", "right", "hazard"};
    return names[static_cast<std::size_t>(indication)];
}
constexpr std::string_view name(core::Side side) {
    return side == core::Side::left ? "left" : "right";
}
constexpr std::string_view name(core::HoldRule rule) {
    return rule == core::HoldRule::fixed ? "fixed" : "paced";
}
constexpr std::string_view name(core::Fault fault) {
    return fault == core::fast_flash ? "fast-flash" : fault == core::stuck_on ? "stuck-on" : "chatter";
}

/// What a fault means and what to do about it.
constexpr std::string_view advice(core::Fault fault) {
    return fault == core::fast_flash ? "flashes faster than 133/min: a lamp may be out"
           : fault == core::stuck_on ? "lit for over 3 s: welded contact, or a flasher under too light a load"
                                     : "changes without settling: loose contact, or PWM (try --pwm-gap 20ms)";
}

/// Stands under every report.
inline constexpr std::string_view caution =
    "Bench figures, no legal advice: never tune while riding, keep the factory\n"
    "tell-tales, follow local rules, have safety wiring checked by someone licensed.\n";

} // namespace winkhold::host
