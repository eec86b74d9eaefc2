#include "winkhold/taps/inspect/hints.hpp"

#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/taps/inspect/detail/remarks.hpp"

#include <algorithm>

namespace winkhold::taps {
namespace {

using core::Side;

constexpr TimeUs looked_at_us = 3'600'000'000;

const LineView& line_of(const Inspection& seen, Side side) {
    return seen.lines[static_cast<std::size_t>(side)];
}

bool is_silent(const LineView& line) {
    return line.lights.empty() && line.pulses == 0;
}

void hint_at_silence(const Inspection& seen, std::vector<std::string>& hints) {
    if (is_silent(line_of(seen, Side::left)) && is_silent(line_of(seen, Side::right))) {
        hints.push_back(
            "Neither line ever lights: are --left and --right the right ones, and the thresholds, "
            "if they are in volts?");
        return;
    }
    for (const Side side : core::both_sides)
        if (is_silent(line_of(seen, side)) && line_of(seen, core::other(side)).lights.size() > 1)
            hints.push_back(
                fmt::format("The {} line never lights. If it is not connected, a hazard can't be told "
                            "from a {} turn.",
                            name(side), name(core::other(side))));
}

void hint_at_settings(const LineView& line, Side side, const core::Settings& settings,
                      std::vector<std::string>& hints) {
    const std::string_view who = name(side);
    const TimeUs hold_us = settings.hold_us;
    if (line.pwm && !line.dark_chopped && settings.pwm_gap_us <= line.pwm->longest_low_us)
        hints.push_back(
            fmt::format("The {} light is chopped at {:.0f} Hz with pauses up to {:.2f} ms: give "
                        "--pwm-gap {}ms.",
                        who, line.pwm->hz, ms(line.pwm->longest_low_us),
                        std::min<TimeUs>(unrest_us, line.pwm->longest_low_us * 3 / 2) / 1'000 + 1));
    if (line.dark.count >= 2 && line.dark.p50_us > hold_us)
        hints.push_back(
            fmt::format("This hold of {} is shorter than the {} line's dark gap of {:.0f} ms: the "
                        "answer flickers. winkhold inspect suggests a hold.",
                        format_duration(hold_us), who, ms(line.dark.p50_us)));
    else if (line.dark.count >= 2 && line.dark.p95_us > hold_us)
        hints.push_back(
            fmt::format("This hold of {} is shorter than the longer ones of the {} line's dark gaps, "
                        "{:.0f} ms: the answer drops out in them.",
                        format_duration(hold_us), who, ms(line.dark.p95_us)));
    if (line.on.count >= 2 && line.on.p50_us < settings.settle_us)
        hints.push_back(
            fmt::format("This settle of {} is longer than the {} line is lit, {:.0f} ms: it hides the "
                        "lights.",
                        format_duration(settings.settle_us), who, ms(line.on.p50_us)));
    if (line.kind == LineKind::always_lit)
        hints.push_back(
            fmt::format("The {} line is lit from start to end: a tap on a live wire, a stuck contact, "
                        "or try --active low (the other value, if you gave one).",
                        who));
    if (std::string remark = noise_remark(line, side); !remark.empty()) hints.push_back(std::move(remark));
}

} // namespace

std::vector<std::string> hints_of(const Inspection& seen, const core::Settings& settings) {
    std::vector<std::string> hints;
    if (std::string remark = polarity_remark(seen); !remark.empty()) hints.push_back(std::move(remark));
    hint_at_silence(seen, hints);
    for (const Side side : core::both_sides) // of an inverted line the lights are not what was decoded
        if (line_of(seen, side).polarity != Polarity::low_is_lit)
            hint_at_settings(line_of(seen, side), side, settings, hints);
    return hints;
}

std::string hint_text(const std::string& recording, const std::string& hint) {
    return wrapped("winkhold: ", "  ", fmt::format("{}: {}", legible(recording), hint));
}

bool InspectedSource::next(Edge& edge) {
    if (!source_.next(edge)) return false;
    if (start_us_ < 0) start_us_ = edge.t_us;
    if (edge.t_us - start_us_ <= looked_at_us) {
        inspector_.feed(edge);
        until_us_ = edge.t_us;
    }
    return true;
}

std::vector<std::string> InspectedSource::hints(const core::Settings& settings) {
    if (start_us_ < 0) return {};
    const TimeUs end_us = std::max(until_us_, std::min(source_.end_us(), start_us_ + looked_at_us));
    return hints_of(inspector_.finish(end_us), settings);
}

} // namespace winkhold::taps
