#include "winkhold/base/settings_text.hpp"

#include "winkhold/base/error.hpp"
#include "winkhold/base/joined.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/nearest.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::base {
namespace {

using core::Settings;

/// Which of `words` the text is.
std::size_t one_of(std::span<const std::string_view> words, std::string_view text, std::string_view what) {
    const auto found = std::find(words.begin(), words.end(), text);
    if (found == words.end())
        throw InputError(fmt::format("{} \"{}\": write {} or {}{}", what, text,
                                     joined(words.first(words.size() - 1), ", "), words.back(),
                                     did_you_mean(text, words)));
    return static_cast<std::size_t>(found - words.begin());
}

std::uint32_t duration(std::string_view text, std::string_view what) {
    const TimeUs us = parse_duration_us(text, what);
    if (us > 3'600'000'000) throw InputError(fmt::format("{} \"{}\": out of range", what, text));
    return static_cast<std::uint32_t>(us);
}

std::uint32_t off_or_duration(std::string_view text, std::string_view what) {
    return text == "off" ? 0 : duration(text, what);
}

bool on_or_off(std::string_view text, std::string_view what) {
    return one_of(on_off_words, text, what) == 0;
}

} // namespace

void set_by_name(Settings& settings, std::string_view name, std::string_view text, std::string_view what) {
    if (name == "settle")
        settings.settle_us = duration(text, what);
    else if (name == "pwm_gap")
        settings.pwm_gap_us = duration(text, what);
    else if (name == "hold")
        settings.hold_us = duration(text, what);
    else if (name == "guard")
        settings.guard_us = duration(text, what);
    else if (name == "handover")
        settings.handover_us = off_or_duration(text, what);
    else if (name == "cut_margin")
        settings.cut_margin_us = duration(text, what);
    else if (name == "gap_prior")
        settings.gap_prior_us = duration(text, what);
    else if (name == "fall_window")
        settings.fall_window_us = off_or_duration(text, what);
    else if (name == "supply_gone")
        settings.supply_gone_us = off_or_duration(text, what);
    else if (name == "hold_rule") {
        constexpr core::HoldRule rules[] = {core::HoldRule::fixed, core::HoldRule::paced};
        settings.rule = rules[one_of(hold_rule_words, text, what)];
    } else if (name == "cut_short")
        settings.cut_short = on_or_off(text, what);
    else if (name == "spread")
        settings.spread = on_or_off(text, what);
    else
        throw InputError(fmt::format("{}: unknown setting", what));
}

std::string value_text(const Settings& s, std::string_view name) {
    const auto on = [](bool is_on) -> std::string { return is_on ? "on" : "off"; };
    const auto window = [](std::uint32_t us) { return us == 0 ? "off" : format_duration(us); };
    if (name == "settle") return format_duration(s.settle_us);
    if (name == "pwm_gap") return format_duration(s.pwm_gap_us);
    if (name == "hold") return format_duration(s.hold_us);
    if (name == "hold_rule") return std::string(host::name(s.rule));
    if (name == "guard") return format_duration(s.guard_us);
    if (name == "gap_prior") return format_duration(s.gap_prior_us);
    if (name == "spread") return on(s.spread);
    if (name == "handover") return window(s.handover_us);
    if (name == "fall_window") return window(s.fall_window_us);
    if (name == "cut_short") return on(s.cut_short);
    if (name == "cut_margin") return format_duration(s.cut_margin_us);
    if (name == "supply_gone") return window(s.supply_gone_us);
    throw InputError(fmt::format("{}: unknown setting", name));
}

void check_settings(const Settings& s) {
    using core::SettingsError;
    const auto time = [](std::uint32_t us) { return format_duration(us); };
    switch (core::check(s)) {
    case SettingsError::none:
        return;
    case SettingsError::settle_out_of_range:
        throw InputError(fmt::format("settle {}: the longest is 1 s", time(s.settle_us)));
    case SettingsError::pwm_gap_out_of_range:
        throw InputError(fmt::format("pwm-gap {}: the longest is 1 s", time(s.pwm_gap_us)));
    case SettingsError::hold_out_of_range:
        throw InputError(fmt::format("hold {}: it must lie between 1 ms and 5 s", time(s.hold_us)));
    case SettingsError::hold_below_settle:
        throw InputError(fmt::format("hold {} is below settle {}: the line would be let go before its fall "
                                     "is even seen; raise hold or lower settle",
                                     time(s.hold_us), time(s.settle_us)));
    case SettingsError::hold_below_pwm_gap:
        throw InputError(fmt::format("hold {} is below the PWM gap {}: the line would be let go between two "
                                     "pulses; raise hold or lower pwm-gap",
                                     time(s.hold_us), time(s.pwm_gap_us)));
    case SettingsError::guard_out_of_range:
        throw InputError(fmt::format("guard {}: the longest is 5 s", time(s.guard_us)));
    case SettingsError::handover_out_of_range:
        throw InputError(
            fmt::format("handover {}: it must be below 1 s; 30ms to 40ms is usual", time(s.handover_us)));
    case SettingsError::cut_margin_out_of_range:
        throw InputError(fmt::format("cut-margin {}: the longest is 1 s", time(s.cut_margin_us)));
    case SettingsError::gap_prior_out_of_range:
        throw InputError(
            fmt::format("gap-prior {}: it must lie between settle or PWM gap and 1 s", time(s.gap_prior_us)));
    case SettingsError::fall_window_out_of_range:
        throw InputError(
            fmt::format("fall-window {}: it must be below 1 s; 80ms is usual", time(s.fall_window_us)));
    case SettingsError::supply_gone_out_of_range:
        throw InputError(fmt::format("supply-gone {}: the longest is 1 s", time(s.supply_gone_us)));
    }
}

} // namespace winkhold::base
