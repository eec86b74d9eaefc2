// The inspection for people.
#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/table.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/taps/inspect/detail/names.hpp"
#include "winkhold/taps/inspect/report.hpp"

#include <algorithm>
#include <cmath>

namespace winkhold::taps {
namespace {

std::string lengths_text(const Lengths& l) {
    return fmt::format(
        "{} of them, mean {:.1f} ms; least {:.1f}, 5 % {:.1f}, 50 % {:.1f}, 95 % {:.1f}, most {:.1f}",
        l.count, ms(l.mean_us), ms(l.least_us), ms(l.p5_us), ms(l.p50_us), ms(l.p95_us), ms(l.most_us));
}

std::string bounce_text(const EdgeBounce& b) {
    if (b.bounced == 0) return fmt::format("{} edges, all clean", b.edges);
    return fmt::format(
        "{} of {} bounce, {:.1f} extra changes each; settle in {:.1f} ms (50 %), {:.1f} ms (95 %), "
        "{:.1f} ms (worst); longest false level {:.2f} ms",
        b.bounced, b.edges, b.changes_mean, ms(b.settling.p50_us), ms(b.settling.p95_us),
        ms(b.settling.most_us), ms(b.longest_false_us));
}

std::string polarity_text(const LineView& line) {
    const char* const rests = line.rests_high ? "high" : "low";
    switch (line.polarity) {
    case Polarity::high_is_lit:
        return fmt::format("rests {}, high is lit", rests);
    case Polarity::low_is_lit:
        return fmt::format("rests {}, low is lit: inverted", rests);
    case Polarity::unknown:
        break;
    }
    return "never rests for 1.5 s, so its polarity can't be told; taken as read";
}

/// Equal classes from the least to the most, the outermost 1 % folded into the ends.
std::string histogram(const char* what, std::vector<TimeUs> values_us) {
    const std::size_t bars = std::clamp<std::size_t>(values_us.size() / 3, 4, 12);
    constexpr double longest_bar = 44;
    if (values_us.size() < 5) return {};
    std::sort(values_us.begin(), values_us.end());
    const std::size_t tail = values_us.size() / 100;
    const auto from = static_cast<double>(values_us[tail]);
    const auto to = static_cast<double>(values_us[values_us.size() - 1 - tail]);
    if (to - from < 1) return {};
    const double step = (to - from) / static_cast<double>(bars);
    std::vector<std::size_t> counts(bars, 0);
    for (const TimeUs us : values_us) {
        const double at = (static_cast<double>(us) - from) / step;
        ++counts[static_cast<std::size_t>(std::clamp(at, 0.0, static_cast<double>(bars - 1)))];
    }
    const auto most = static_cast<double>(*std::max_element(counts.begin(), counts.end()));
    std::string text =
        fmt::format("\n  {} times, ms{:>{}}\n", what, "count", 14 - std::string_view(what).size());
    for (std::size_t i = 0; i < bars; ++i) {
        const auto at = static_cast<double>(i);
        const double bar = std::ceil(longest_bar * static_cast<double>(counts[i]) / most);
        text +=
            fmt::format("  {:>7.1f} - {:<7.1f} {:>7}{}{}\n", ms(from + step * at), ms(from + step * (at + 1)),
                        counts[i], bar > 0 ? " " : "", std::string(static_cast<std::size_t>(bar), '#'));
    }
    return text;
}

/// Those that the recording's ends cut have no length of their own.
std::string cut_text(const LineView& line) {
    const auto cut =
        std::count_if(line.lights.begin(), line.lights.end(), [](const SeenLight& l) { return !l.whole(); });
    return cut == 0 ? "" : fmt::format(" ({} cut by the recording's ends)", cut);
}

Table line_table(const LineView& line) {
    Table table{{"", ""}};
    const auto add = [&](const char* what, std::string figures) {
        table.rows.push_back({what, std::move(figures)});
    };
    if (line.changes == 0) {
        add("level", line.lights.empty() ? "low all along" : "high all along");
        return table;
    }
    add("polarity", polarity_text(line));
    add("lit",
        fmt::format("{:.1f} % of the time, {} flashes{}, {} shorter pulses{}, {} breaks", line.lit_percent,
                    line.lights.size(), cut_text(line), line.pulses,
                    line.pulses == 0 ? ""
                                     : fmt::format(" (longest {})", format_duration(line.longest_pulse_us)),
                    line.breaks));
    add("short levels", fmt::format("below 1 / 5 / 20 ms: {} / {} / {} highs, {} / {} / {} lows",
                                    line.highs_below[0], line.highs_below[1], line.highs_below[2],
                                    line.lows_below[0], line.lows_below[1], line.lows_below[2]));
    if (line.pwm)
        add("PWM",
            fmt::format(
                "{:.1f} Hz, {:.1f} % high{}, longest low {:.2f} ms{}", line.pwm->hz, line.pwm->duty_percent,
                line.pwm->fades() ? fmt::format(", fading between {:.0f} and {:.0f} %",
                                                line.pwm->dimmest_percent, line.pwm->brightest_percent)
                                  : "",
                ms(line.pwm->longest_low_us), line.dark_chopped ? ", in the dark phases" : ""));
    if (line.rise.edges > 0) add("rises", bounce_text(line.rise));
    if (line.fall.edges > 0) add("falls", bounce_text(line.fall));
    if (line.on.count > 0) add("on time", lengths_text(line.on));
    if (line.dark.count > 0) add("dark time", lengths_text(line.dark));
    if (line.rate.cycles > 0) {
        add("flash rate", fmt::format("{:.1f}/min, the mean of {} cycles' rates",
                                      line.rate.mean_of_rates_per_min, line.rate.cycles));
        add("mean period", fmt::format("{:.1f} ms", 60e3 / line.rate.of_mean_period_per_min));
    }
    if (line.drift)
        add("drift", fmt::format("period {:+.3f} % a minute (95 %: {:+.3f} to {:+.3f})",
                                 line.drift->percent_per_min, line.drift->low, line.drift->high));
    for (const auto& [fault, count] : line.faults)
        add("fault", fmt::format("{} ({}x)", name(fault), count));
    return table;
}

std::string line_text(const LineView& line, core::Side side) {
    return fmt::format("\n{} line\n", side == core::Side::left ? "Left" : "Right") +
           table_text(line_table(line), 2) + histogram("on", line.on_us) + histogram("dark", line.dark_us);
}

std::string others_text(const std::vector<OtherTap>& others) {
    if (others.empty()) return {};
    Table table{{"", ""}};
    for (const OtherTap& tap : others) {
        std::string text = tap.high_percent >= 100
                               ? "high all along"
                               : fmt::format("high {:.1f} % of the time, {} time{}, "
                                             "{} at the longest",
                                             tap.high_percent, tap.times, tap.times == 1 ? "" : "s",
                                             format_duration(tap.longest_high_us));
        if (tap.short_highs > 0) text += fmt::format("; {} of them under 20 ms", tap.short_highs);
        if (tap.dips > 0)
            text += fmt::format("; {} dip{} under 120 ms, {} at the longest", tap.dips,
                                tap.dips == 1 ? "" : "s", format_duration(tap.longest_dip_us));
        table.rows.push_back({std::string(name(tap.tap)), std::move(text)});
    }
    return "\nOther taps (those that are ever high)\n" + table_text(table, 2);
}

std::string suggestions(const Inspection& seen) {
    Table table{{"", {"", Align::right}, ""}};
    const auto add = [&](const char* what, const Suggestion& suggestion) {
        table.rows.push_back(
            {what, suggestion.us == 0 ? "0" : format_duration(suggestion.us), suggestion.reason});
    };
    add("--settle", seen.settle);
    add("--pwm-gap", seen.pwm_gap);
    add("--hold", seen.hold);
    return "\nSuggested settings\n" + table_text(table, 2);
}

} // namespace

std::string inspect_text(const Inspection& seen, const std::string& title) {
    std::string text =
        wrapped("", "  ",
                fmt::format("{}: {:.3f} s to {:.3f} s, clock steps of {}", legible(title),
                            ms(seen.start_us) / 1e3, ms(seen.end_us) / 1e3, format_duration(seen.tick_us))) +
        "\n";
    for (const std::string& sentence : verdict_of(seen))
        text += wrapped("- ", "  ", sentence);
    for (const core::Side side : {core::Side::left, core::Side::right})
        text += line_text(seen.lines[static_cast<std::size_t>(side)], side);
    if (seen.skew.any()) {
        const Table skew{{"", ""},
                         {{"rise skew", lengths_text(lengths_of(seen.skew.rise_us))},
                          {"fall skew", lengths_text(lengths_of(seen.skew.fall_us))}}};
        text += "\nBoth sides lit together (right after left)\n" + table_text(skew, 2);
    }
    if (seen.amplitudes)
        text += fmt::format("\nLit, left {:.1f} V, right {:.1f} V (steps of 0.1 V)\n",
                            seen.amplitudes->lit_v[0], seen.amplitudes->lit_v[1]);
    text += others_text(seen.others) + suggestions(seen);
    return text + "\n" + std::string(caution);
}

} // namespace winkhold::taps
