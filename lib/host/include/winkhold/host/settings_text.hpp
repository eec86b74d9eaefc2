/// The decoder's settings by name and text, the same for the command line and for TOML.
#pragma once

#include "winkhold/core/settings.hpp"
#include "winkhold/host/time.hpp"

#include <array>
#include <string>
#include <string_view>

namespace winkhold::host {

/// One setting: its name in TOML (the option is the same with dashes), and help for people.
struct NamedSetting {
    std::string_view name;
    std::string_view help;
};

inline constexpr std::array<NamedSetting, 13> named_settings{{
    {"settle", "a level counts once it has stood this long (default 5ms)"},
    {"pwm_gap", "lows shorter than this belong to the on phase; 0: line not chopped (default 0)"},
    {"hold", "longest dark gap bridged, from the last high on (default 1000ms)"},
    {"hold_rule", "fixed, or paced by the learned dark gaps (default paced)"},
    {"guard", "paced: margin on the longest learned dark gap (default 10ms)"},
    {"gap_prior", "paced: this bike's dark gap if measured, used until one is learned (default 0: unknown)"},
    {"spread", "on or off: guard and cut margin grow with the spread of what was learned (default on)"},
    {"handover", "window that tells hazard from side change, or off (default 60ms)"},
    {"handover_end",
     "until the window ends show both, delay the new side, or show it at-once (default at-once)"},
    {"fall_window", "a side dark this long while the other stays lit has ended, or off (default 100ms)"},
    {"cut_short", "on or off: release at once after a flash cut short (default on)"},
    {"cut_margin", "a flash this much shorter than the least learned is cut short (default 10ms)"},
    {"supply_gone", "supply tap low this long: everything off; or off (default 120ms)"},
}};

/// Sets `name` (as in named_settings) from text. Throws InputError that starts with `what`: unknown name,
/// bad value. Ranges are judged by check_settings() once all are set.
void set_by_name(core::Settings& settings, std::string_view name, std::string_view text,
                 std::string_view what);

/// A setting's value for people: "5 ms", "off", "paced". `name` as in named_settings.
std::string value_text(const core::Settings& settings, std::string_view name);

/// Throws InputError saying what is wrong and what to do, if the core's check() refuses.
void check_settings(const core::Settings& settings);

} // namespace winkhold::host
