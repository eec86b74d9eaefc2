// What an inspection means, in plain words.
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/taps/inspect/detail/remarks.hpp"
#include "winkhold/taps/inspect/report.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::taps {
namespace {

using core::Side;

// 120/min is the published ceiling, 60/min the floor (UN R53, quoted; SAE J945, read in letters)
constexpr double fastest_per_min = 120;
constexpr double slowest_per_min = 60;

constexpr double least_drift = 0.05; // percent a minute; less means nothing to a decoder

std::string kind_in_words(const LineView& line, Side side) {
    const std::string who = side == Side::left ? "Left" : "Right";
    switch (line.kind) {
    case LineKind::never_lit:
        return line.changes == 0 ? who + " never changes: no signal was given, or this tap is not connected."
                                 : fmt::format("{} shows {} pulse{} of at most {}, but no flash: noise, or a "
                                               "controller's test pulses.",
                                               who, line.pulses, line.pulses == 1 ? "" : "s",
                                               format_duration(line.longest_pulse_us));
    case LineKind::always_lit:
        return who +
               " is lit from start to end: a welded contact, a tap on a live wire, or the wrong polarity.";
    case LineKind::chopped_on:
        return fmt::format(
            "{} is chopped all along (about {:.0f} Hz, {:.0f} % high) and never flashes: a dimmed "
            "lamp, or not a turn signal at all.",
            who, line.pwm->hz, line.pwm->duty_percent);
    case LineKind::restless:
        return fmt::format("{} changes all the time, without any rhythm: noise, a loose contact, or a tap "
                           "that hangs in the air.",
                           who);
    case LineKind::single_flash:
        if (!line.lights.front().whole())
            return fmt::format("{} lights once, and the recording {} in it: too little to tell a rhythm; "
                               "record a few flashes.",
                               who, line.lights.front().to_end ? "ends" : "begins");
        return fmt::format(
            "{} lights once, for {:.0f} ms: too little to tell a rhythm; record a few flashes.", who,
            ms(line.lights.front().lit_us()));
    case LineKind::flashing:
        break;
    }
    if (line.rate.cycles == 0)
        return fmt::format("{} lights {} times, each alone: record longer requests.", who,
                           line.lights.size());
    const std::string lit =
        line.on.count > 0 ? fmt::format("lit {:.0f} ms and ", ms(line.on.p50_us)) : std::string();
    return fmt::format("{} flashes at {:.1f}/min, mostly {}dark {:.0f} ms.", who,
                       line.rate.mean_of_rates_per_min, lit, ms(line.dark.p50_us));
}

void say_more(const LineView& line, Side side, std::vector<std::string>& verdict) {
    const std::string_view who = name(side);
    if (std::string remark = noise_remark(line, side); !remark.empty()) verdict.push_back(std::move(remark));
    if (line.rate.cycles > 0 && line.rate.mean_of_rates_per_min > fastest_per_min)
        verdict.push_back(fmt::format(
            "The {} rate is over 120/min: a lamp may be out, or the flasher is not for this load.", who));
    if (line.rate.cycles > 0 && line.rate.mean_of_rates_per_min < slowest_per_min)
        verdict.push_back(fmt::format("The {} rate is below 60/min.", who));
    if (line.pwm && line.kind == LineKind::flashing && !line.dark_chopped)
        verdict.push_back(
            line.pwm->fades()
                ? fmt::format("The {} light is dimmed up and down, {:.0f} to {:.0f} % on, chopped at {:.0f} "
                              "Hz: give --pwm-gap.",
                              who, line.pwm->dimmest_percent, line.pwm->brightest_percent, line.pwm->hz)
                : fmt::format("The {} light is chopped at {:.0f} Hz, {:.0f} % on: give --pwm-gap.", who,
                              line.pwm->hz, line.pwm->duty_percent));
    if (line.dark_chopped && !line.pwm)
        verdict.push_back(fmt::format(
            "The {} line never rests: short pulses without any rhythm, up to {:.1f} ms: noise, from "
            "the ignition, a poor ground or a loose tap. Its flashes are the long highs; keep the "
            "settle above the pulses, and look at the wiring.",
            who, ms(line.longest_pulse_us)));
    if (line.dark_chopped && line.pwm)
        verdict.push_back(
            fmt::format("The {} line is chopped while dark: a running lamp on the same wire. Its "
                        "flashes are the long highs; keep the settle above the chopped ones.",
                        who));
    // every twentieth interval of 95 % misses; a third wider is 99 %
    const bool drifts = line.drift && std::abs(line.drift->percent_per_min) >
                                          std::max(least_drift, 0.67 * (line.drift->high - line.drift->low));
    if (drifts)
        verdict.push_back(fmt::format("The {} period {} by {:.2f} % a minute: the flasher warms up, or the "
                                      "supply drifts.",
                                      who, line.drift->percent_per_min > 0 ? "grows" : "shrinks",
                                      std::abs(line.drift->percent_per_min)));
    for (const auto& [fault, count] : line.faults)
        verdict.push_back(fmt::format("{}, {} time{} on the {} line: {}.", name(fault), count,
                                      count == 1 ? "" : "s", who, advice(fault)));
}

} // namespace

std::vector<std::string> verdict_of(const Inspection& seen) {
    std::vector<std::string> verdict;
    if (std::string remark = polarity_remark(seen); !remark.empty()) verdict.push_back(std::move(remark));
    for (const Side side : {Side::left, Side::right})
        verdict.push_back(kind_in_words(seen.lines[static_cast<std::size_t>(side)], side));
    for (const Side side : {Side::left, Side::right})
        say_more(seen.lines[static_cast<std::size_t>(side)], side, verdict);
    if (seen.amplitudes && seen.amplitudes->fed_flashes > 0)
        verdict.push_back(
            fmt::format("In {} flash{} one side stands at {:.0f} % of the other: a shared pilot lamp or the "
                        "flasher's own current feeds it. Thresholds above that, or diodes, tell them "
                        "apart.",
                        seen.amplitudes->fed_flashes, seen.amplitudes->fed_flashes == 1 ? "" : "es",
                        100 * seen.amplitudes->fed_ratio));
    if (seen.tick_us >= 1'000)
        verdict.push_back(
            fmt::format("All times are multiples of {}: bounce shorter than that is not in this "
                        "recording, and each length is off by up to as much.",
                        format_duration(seen.tick_us)));
    return verdict;
}

} // namespace winkhold::taps
