/// Names of the core's values, as every output spells them.
#pragma once

#include "winkhold/base/wings.hpp"
#include "winkhold/core/settings.hpp"
#include "winkhold/core/watch.hpp"

#include <string_view>

namespace winkhold::base {

/// Its word in tables, files and JSON.
constexpr std::string_view name(core::Indication indication) {
    constexpr std::string_view names[] = {"off", "left", "right", "hazard"};
    return names[static_cast<std::size_t>(indication)];
}
/// Its word in tables, files and JSON.
constexpr std::string_view name(core::Side side) {
    return side == core::Side::left ? "left" : "right";
}
/// Its word in options, vehicle files and JSON.
constexpr std::string_view name(core::HoldRule rule) {
    return rule == core::HoldRule::fixed ? "fixed" : "paced";
}
inline constexpr core::Fault all_faults[] = {core::fast_flash, core::stuck_on, core::chatter, core::as_one,
                                             core::alternating};

/// Its word in tables, catalogue files and JSON.
constexpr std::string_view name(core::Fault fault) {
    switch (fault) {
    case core::fast_flash:
        return "fast-flash";
    case core::stuck_on:
        return "stuck-on";
    case core::chatter:
        return "chatter";
    case core::as_one:
        return "as-one";
    case core::alternating:
        return "alternating";
    }
    return "";
}

/// What a fault means and what to do about it.
constexpr std::string_view advice(core::Fault fault) {
    switch (fault) {
    case core::fast_flash:
        return "flashes faster than 133/min: a lamp may be out";
    case core::stuck_on:
        return "lit for over 3 s: welded contact, or a flasher under too light a load";
    case core::chatter:
        return "changes without settling: loose contact, or PWM (try --pwm-gap 20ms)";
    case core::as_one:
        return "both sides move as one: hazard, or cross-feed by a shared pilot lamp, can't tell";
    case core::alternating:
        return "the sides take turns: front and rear taps mixed? tap both at one end";
    }
    return "";
}

} // namespace winkhold::base

// A wing's own name() would hide these.
namespace winkhold::taps {
using base::name;
}
namespace winkhold::measure {
using base::name;
}
namespace winkhold::bike {
using base::name;
}
namespace winkhold::live {
using base::name;
}
