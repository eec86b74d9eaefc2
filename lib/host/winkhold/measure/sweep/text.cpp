// The sweep for people.
#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/statistics/binomial.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/table.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/measure/sweep/report.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::measure {
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

/// The swept value, how many dropped and the bound on their rate; overlap and release.
std::vector<std::string> cells(std::vector<std::string> first, const CurvePoint& p) {
    for (const Summary* s : {&p.overlap, &p.release})
        for (const double us : {s->mean_us, static_cast<double>(s->p99_us), static_cast<double>(s->max_us)})
            first.push_back(fmt::format("{:.1f}", ms(us)));
    return first;
}

std::vector<std::string> row(const Sweep& sweep, const CurvePoint& p, const std::string& head) {
    return cells({head, fmt::format("{}", hits(sweep, p)), fmt::format("{:.2g}", upper(sweep, p))}, p);
}

Table curve_table(const Sweep& sweep) {
    constexpr Align right = Align::right;
    Table table{{{"ms", right, paced(sweep) ? "guard" : "hold"},
                 {"dropped", right, sweep.population ? "bikes" : "flashes"},
                 {"upper", right, "95 %"}}};
    for (const char* figure : {"overlap ms", "release ms"})
        for (const char* of : {"mean", "p99", "max"})
            table.columns.emplace_back(of, right, figure);
    for (const CurvePoint& p : sweep.curve)
        table.rows.push_back(row(sweep, p, fmt::format("{:g}", value_ms(sweep, p))));
    if (sweep.bound) table.rows.push_back(cells({"bound", "", ""}, *sweep.bound));
    if (!sweep.beside.empty()) table.rows.push_back({"On the same trials:"});
    for (const CurvePoint& p : sweep.beside) {
        table.rows.push_back({fmt::format("{}, {}", p.label,
                                          p.rule == core::HoldRule::fixed
                                              ? fmt::format("hold {}", format_duration(p.hold_us))
                                              : fmt::format("guard {}", format_duration(p.guard_us)))});
        table.rows.push_back(row(sweep, p, ""));
    }
    return table;
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
    std::string text = wrapped("", "  ",
                               fmt::format("{}: {} trial{}, {} flashes, seed {}", legible(title), sweep.bikes,
                                           sweep.bikes == 1 ? "" : "s", sweep.flashes, sweep.plan.seed)) +
                       wrapped("", "", rules(sweep));
    if (!sweep.still_example.notice.empty()) text += wrapped("", "", legible(sweep.still_example.notice));
    text += "\n";
    text += table_text(curve_table(sweep), 2);
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
    text += wrapped("", "", sweep.choice.reason);
    return text + "\n" + std::string(caution);
}

} // namespace winkhold::measure
