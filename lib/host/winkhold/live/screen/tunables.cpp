#include "winkhold/live/screen/tunables.hpp"

#include "winkhold/base/settings_text.hpp"
#include "winkhold/link/words.hpp"

#include <algorithm>
#include <cstdint>
#include <string_view>

namespace winkhold::live {
namespace {

struct Time {
    std::string_view name;
    core::Span core::Settings::*field;
    std::int64_t step_us;
};

constexpr Time times[] = {{"settle", &core::Settings::settle_us, 500},
                          {"pwm_gap", &core::Settings::pwm_gap_us, 1'000},
                          {"hold", &core::Settings::hold_us, 20'000},
                          {"guard", &core::Settings::guard_us, 1'000},
                          {"gap_prior", &core::Settings::gap_prior_us, 10'000},
                          {"handover", &core::Settings::handover_us, 5'000},
                          {"fall_window", &core::Settings::fall_window_us, 5'000},
                          {"cut_margin", &core::Settings::cut_margin_us, 1'000},
                          {"supply_gone", &core::Settings::supply_gone_us, 10'000}};

} // namespace

core::Settings stepped(const core::Settings& settings, std::size_t which, int steps) {
    const std::string_view name = named_settings[which].name;
    core::Settings changed = settings;
    const auto time =
        std::find_if(std::begin(times), std::end(times), [&](const Time& one) { return one.name == name; });
    if (time != std::end(times)) {
        const std::int64_t now_us = settings.*time->field;
        changed.*time->field =
            static_cast<core::Span>(std::max<std::int64_t>(0, now_us + steps * time->step_us));
    } else if (name == "hold_rule") {
        changed.rule = settings.rule == core::HoldRule::fixed ? core::HoldRule::paced : core::HoldRule::fixed;
    } else if (name == "cut_short") {
        changed.cut_short = !settings.cut_short;
    } else {
        changed.spread = !settings.spread;
    }
    const bool allowed =
        core::check(changed) == core::SettingsError::none && link::allowed_on_a_bike(changed);
    return allowed ? changed : settings;
}

} // namespace winkhold::live
