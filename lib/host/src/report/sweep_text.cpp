// The sweep for people.
#include "numbers.hpp"
#include "report/wrapped.hpp"
#include "winkhold/host/report/names.hpp"
#include "winkhold/host/report/sweep_report.hpp"
#include "winkhold/host/score/binomial.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::host {
namespace {

bool paced(const Sweep& sweep) {
    return sweep.plan.settings.rule == core::HoldRule::paced;
}

double value_ms(const Sweep& sweep, const CurvePoint& point) {
    return ms(paced(sweep) ? point.guard_us : point.hold_us);
}

std::int64_t hits(const Sweep& sweep, const CurvePoint& point) {
    return sweep.population ? point.bikes_with_dropout : point.dropouts;
}

double upper(const Sweep& sweep, const CurvePoint& point) {
    return upper95(hits(sweep, point), sweep.population ? sweep.bikes : sweep.flashes);
}

std::string rules(const Sweep& sweep) {
    const core::Settings& s = sweep.plan.settings;
    return fmt::format("rule {}{}, settle {}, handover {}, cut-short {}", name(s.rule),
                       paced(sweep) ? fmt::format(", hold at most {}", format_duration(s.hold_us)) : "",
                       format_duration(s.settle_us),
                       s.handover_us == 0 ? "off" : format_duration(s.handover_us),
                       s.cut_short ? "on" : "off");
}

std::string row(const Sweep& sweep, const CurvePoint& p, const std::string& head) {
    return fmt::format("{:>8}{:>10}{:>10.2g}{:>8.1f}{:>7.1f}{:>7.1f}{:>9.1f}{:>8.1f}{:>8.1f}\n", head,
                       hits(sweep, p), upper(sweep, p), ms(p.overlap.mean_us), ms(p.overlap.p99_us),
                       ms(p.overlap.max_us), ms(p.release.mean_us), ms(p.release.p99_us),
                       ms(p.release.max_us));
}

/// Mean overlap and release against the swept value; below it, where dropouts are too many.
std::string chart(const Sweep& sweep) {
    constexpr int height = 10;
    constexpr std::size_t widest = 64;
    const std::size_t points = sweep.curve.size();
    if (points < 3) return "";
    double top_ms = 1;
    for (const CurvePoint& p : sweep.curve)
        top_ms = std::max({top_ms, ms(p.release.mean_us), ms(p.overlap.mean_us)});
    const std::size_t columns = std::min(widest, points * std::max<std::size_t>(1, widest / points));
    std::vector<std::string> rows(height + 1, std::string(columns, ' '));
    std::string verdict(columns, ' ');
    for (std::size_t column = 0; column < columns; ++column) {
        const std::size_t i = column * points / columns;
        const CurvePoint& p = sweep.curve[i];
        const auto plot = [&](double figure_ms, char mark) {
            const auto up = static_cast<std::size_t>(std::lround(figure_ms / top_ms * height));
            char& cell = rows[height - up][column];
            cell = cell == ' ' ? mark : '*';
        };
        plot(ms(p.overlap.mean_us), 'o');
        plot(ms(p.release.mean_us), 'r');
        verdict[column] = upper(sweep, p) <= sweep.plan.target ? '-' : 'x';
        if (sweep.choice.point && *sweep.choice.point == i) verdict[column] = '^';
    }
    std::string drawn = fmt::format("\n{:>10} mean release r, mean overlap o (both *)\n", "ms");
    for (int i = 0; i <= height; ++i)
        drawn += fmt::format(
            "{:>10} |{}\n", i % 5 == 0 ? fmt::format("{:.0f}", top_ms * (height - i) / height) : "", rows[i]);
    drawn += fmt::format("{:>10} |{}\n", "target", verdict);
    const auto end = [&](const CurvePoint& p) { return fmt::format("{:g} ms", value_ms(sweep, p)); };
    drawn += fmt::format("{:>12}{}{:>{}}\n", "", end(sweep.curve.front()), end(sweep.curve.back()),
                         columns - end(sweep.curve.front()).size());
    drawn += fmt::format("{:>12}x too many dropouts  - meets the target  ^ chosen\n", "");
    return drawn;
}

} // namespace

std::string sweep_text(const Sweep& sweep, const std::string& title) {
    const char* const what = paced(sweep) ? "guard" : "hold";
    const char* const unit = sweep.population ? "bikes" : "flashes";
    std::string text = fmt::format("{}: {} trial{}, {} flashes, seed {}\n{}\n\n", title, sweep.bikes,
                                   sweep.bikes == 1 ? "" : "s", sweep.flashes, sweep.plan.seed, rules(sweep));
    text +=
        fmt::format("{:>8}{:>10}{:>10}{:>22}{:>25}\n", what, unit, "95 %", "overlap ms   ", "release ms    ");
    text += fmt::format("{:>8}{:>10}{:>10}{:>8}{:>7}{:>7}{:>9}{:>8}{:>8}\n", "ms", "dropped", "upper", "mean",
                        "p99", "max", "mean", "p99", "max");
    for (const CurvePoint& p : sweep.curve)
        text += row(sweep, p, fmt::format("{:g}", value_ms(sweep, p)));
    if (sweep.bound) {
        const CurvePoint& b = *sweep.bound;
        text += fmt::format("{:>8}{:>10}{:>10}{:>8.1f}{:>7.1f}{:>7.1f}{:>9.1f}{:>8.1f}{:>8.1f}\n", "bound",
                            "", "", ms(b.overlap.mean_us), ms(b.overlap.p99_us), ms(b.overlap.max_us),
                            ms(b.release.mean_us), ms(b.release.p99_us), ms(b.release.max_us));
    }
    if (!sweep.beside.empty()) text += "\nOn the same trials:\n";
    for (const CurvePoint& p : sweep.beside) {
        text += fmt::format("{}, {}\n", p.label,
                            p.rule == core::HoldRule::fixed
                                ? fmt::format("hold {}", format_duration(p.hold_us))
                                : fmt::format("guard {}", format_duration(p.guard_us)));
        text += row(sweep, p, "");
    }
    text += chart(sweep);
    const CurvePoint& shown = sweep.curve[sweep.choice.point.value_or(sweep.curve.size() - 1)];
    text += fmt::format("\nAt {} {:g} ms: {} false shows, {} never shown,\n"
                        "acquire mean {:.1f}, p99 {:.1f}, max {:.1f} ms\n",
                        what, value_ms(sweep, shown), shown.false_shows, shown.missed,
                        ms(shown.acquire.mean_us), ms(shown.acquire.p99_us), ms(shown.acquire.max_us));
    if (sweep.choice.point)
        text += fmt::format("Chosen: {} {:g} ms (exactly {:g} ms)\n", what, value_ms(sweep, shown),
                            ms(sweep.choice.exact_us));
    else
        text += "Chosen: none\n";
    text += wrapped("", "", sweep.choice.reason, 78);
    return text + "\n" + std::string(caution);
}

} // namespace winkhold::host
