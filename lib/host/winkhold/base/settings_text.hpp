/// The decoder's settings by name and text, the same for the command line and for TOML.
#pragma once

#include "winkhold/base/time.hpp"
#include "winkhold/core/settings.hpp"

#include <array>
#include <span>
#include <string>
#include <string_view>

namespace winkhold::base {

/// One setting: its name in TOML (the option is the same with dashes), help for people without the default,
/// which is the core's, and the words it takes; without words it takes a duration.
struct NamedSetting {
    std::string_view name;
    std::string_view help;
    std::span<const std::string_view> words{};
};

inline constexpr std::string_view hold_rule_words[] = {"fixed", "paced"};
inline constexpr std::string_view on_off_words[] = {"on", "off"};

inline constexpr std::array<NamedSetting, 12> named_settings{{
    {"settle", "a level counts once it has stood this long"},
    {"pwm_gap", "lows shorter than this belong to the on phase; 0: line not chopped"},
    {"hold", "longest dark gap bridged, from the last high on"},
    {"hold_rule", "hold for a fixed time, or paced by the learned dark gaps", hold_rule_words},
    {"guard", "paced: margin on the longest learned dark gap"},
    {"gap_prior", "paced: this bike's dark gap if measured, used until one is learned; 0: unknown"},
    {"spread", "guard and cut margin grow with the spread of what was learned", on_off_words},
    {"handover", "window that tells hazard from side change, or off"},
    {"fall_window", "a side dark this long while the other stays lit has ended, or off"},
    {"cut_short", "release at once after a flash cut short", on_off_words},
    {"cut_margin", "a flash this much shorter than the least learned is cut short"},
    {"supply_gone", "supply tap low this long: everything off; or off"},
}};

/// Sets `name` (as in named_settings) from text. Throws InputError that starts with `what`: unknown name,
/// bad value. Ranges are judged by check_settings() once all are set.
void set_by_name(core::Settings& settings, std::string_view name, std::string_view text,
                 std::string_view what);

/// A setting's value for people: "5 ms", "off", "paced". `name` as in named_settings.
std::string value_text(const core::Settings& settings, std::string_view name);

/// Throws InputError saying what is wrong and what to do, if the core's check() refuses.
void check_settings(const core::Settings& settings);

} // namespace winkhold::base
