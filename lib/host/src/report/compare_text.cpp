// The comparison for people, and as Markdown.
#include "numbers.hpp"
#include "winkhold/host/report/compare_report.hpp"
#include "winkhold/host/report/names.hpp"

#include <algorithm>
#include <fmt/ranges.h>

namespace winkhold::host {
namespace {

constexpr std::size_t shown_decoders[] = {fixed_fitted, fixed_840, default_decoder};

/// Mean release, then overlap p99, in ms, of the shown decoders and the bound; then the default's late
/// dropouts in a million.
std::vector<std::string> row(const RidesFigures& figures) {
    std::vector<std::string> numbers;
    const auto add_all = [&](auto&& figure_ms) {
        const auto add = [&](const DecoderFigures& of) {
            numbers.push_back(fmt::format("{:.0f}", figure_ms(of)));
        };
        for (const std::size_t i : shown_decoders)
            add(figures.decoders[i]);
        add(figures.bound);
    };
    add_all([](const DecoderFigures& of) { return ms(of.release.mean_us); });
    add_all([](const DecoderFigures& of) { return ms(of.overlap.p99_us); });
    numbers.push_back(
        short_number(per_million(figures.decoders[default_decoder].late_dropouts, figures.late_flashes)));
    return numbers;
}

std::string label(const Cell& cell) {
    return fmt::format("{}, {} ms, {} %", name(cell.side_change), cell.period_us / 1000, cell.duty_percent);
}

/// One decoder over all cells of one jitter.
struct Overall {
    std::string name;
    std::int64_t dropouts{0};
    std::int64_t late_dropouts{0};
    std::int64_t false_shows{0};
    std::int64_t missed{0};
    double release_sum_us{0};
    double overlap_sum_us{0};
    double acquire_sum_us{0};
    TimeUs worst_overlap_us{0}; ///< the highest p99 of any cell

    void add(const DecoderFigures& of) {
        dropouts += of.dropouts;
        late_dropouts += of.late_dropouts;
        false_shows += of.false_shows;
        missed += of.missed;
        release_sum_us += of.release.mean_us;
        overlap_sum_us += of.overlap.mean_us;
        acquire_sum_us += of.acquire.mean_us;
        worst_overlap_us = std::max(worst_overlap_us, of.overlap.p99_us);
    }
};

struct OverallTable {
    std::vector<Overall> rows; ///< decoders, then the bound
    std::int64_t flashes{0};
    std::int64_t late_flashes{0};
    double cells{0};

    /// Mean release and overlap over the cells, worst overlap p99, mean acquire; dropouts and late dropouts
    /// in a million, false shows, missed.
    std::vector<std::string> numbers(const Overall& of) const {
        std::vector<std::string> list{fmt::format("{:.0f}", ms(of.release_sum_us) / cells),
                                      fmt::format("{:.0f}", ms(of.overlap_sum_us) / cells),
                                      fmt::format("{:.0f}", ms(of.worst_overlap_us)),
                                      fmt::format("{:.1f}", ms(of.acquire_sum_us) / cells)};
        if (&of == &rows.back()) { // the bound counts nothing
            list.resize(8, "-");
            return list;
        }
        list.push_back(short_number(per_million(of.dropouts, flashes)));
        list.push_back(short_number(per_million(of.late_dropouts, late_flashes)));
        list.push_back(fmt::format("{}", of.false_shows));
        list.push_back(fmt::format("{}", of.missed));
        return list;
    }
};

OverallTable overall(const Comparison& comparison, int jitter_percent) {
    OverallTable table;
    table.rows.resize(cell_decoders + 1);
    for (std::size_t i = 0; i < cell_decoders; ++i)
        table.rows[i].name = cell_decoder_names[i];
    table.rows.back().name = "clairvoyant bound";
    for (std::size_t c = 0; c < comparison.cells.size(); ++c) {
        if (comparison.cells[c].jitter_percent != jitter_percent) continue;
        const RidesFigures& figures = comparison.figures[c];
        for (std::size_t i = 0; i < cell_decoders; ++i)
            table.rows[i].add(figures.decoders[i]);
        table.rows.back().add(figures.bound);
        table.flashes += figures.flashes;
        table.late_flashes += figures.late_flashes;
        ++table.cells;
    }
    return table;
}

std::string missed_targets(const Comparison& comparison, std::size_t cell) {
    std::vector<std::string> list;
    for (const Miss& miss : comparison.misses)
        if (miss.cell == cell)
            list.push_back(fmt::format("{} {}, at most {}{}{}", miss.what, short_number(miss.value),
                                       short_number(miss.limit), miss.unit.empty() ? "" : " ", miss.unit));
    return fmt::format("{}", fmt::join(list, "; "));
}

std::string verdict(const Comparison& comparison) {
    std::string text;
    for (std::size_t c = 0; c < comparison.cells.size(); ++c)
        if (const std::string missed = missed_targets(comparison, c); !missed.empty())
            text += fmt::format("  {}: {}\n", label(comparison.cells[c]), missed);
    return text.empty()
               ? "The default decoder meets every target.\n"
               : fmt::format("The default decoder misses, at {} % jitter:\n", judged_jitter_percent) + text;
}

std::string jitter_text(const Comparison& comparison, int jitter_percent) {
    std::string text = fmt::format("Jitter {} %\n\n{:<27}{:>23}{:>23}{:>7}\n{:<27}", jitter_percent, "",
                                   "mean release, ms", "overlap p99, ms", "late", "flasher, period, lit");
    for (int i = 0; i < 2; ++i)
        text += fmt::format("{:>7}{:>5}{:>5}{:>6}", "fitted", "840", "def.", "bound");
    text += fmt::format("{:>7}\n", "in 1e6");
    for (std::size_t c = 0; c < comparison.cells.size(); ++c) {
        if (comparison.cells[c].jitter_percent != jitter_percent) continue;
        const auto n = row(comparison.figures[c]);
        text += fmt::format("{:<27}{:>7}{:>5}{:>5}{:>6}{:>7}{:>5}{:>5}{:>6}{:>7}\n",
                            label(comparison.cells[c]), n[0], n[1], n[2], n[3], n[4], n[5], n[6], n[7], n[8]);
    }
    const OverallTable table = overall(comparison, jitter_percent);
    text += fmt::format("\n{:<24}{:>8}{:>13}{:>8}{:>8}{:>6}{:>7}{:>6}\n", "", "release", "overlap", "acquire",
                        "drop-", "late", "false", "never");
    text += fmt::format("{:<24}{:>8}{:>6}{:>7}{:>8}{:>8}{:>6}{:>7}{:>6}\n", "all cells, worst p99", "mean",
                        "mean", "p99", "mean", "outs", "", "shows", "shown");
    for (const Overall& of : table.rows) {
        const auto n = table.numbers(of);
        text += fmt::format("{:<24}{:>8}{:>6}{:>7}{:>8}{:>8}{:>6}{:>7}{:>6}\n", of.name, n[0], n[1], n[2],
                            n[3], n[4], n[5], n[6], n[7]);
    }
    return text + "\n";
}

} // namespace

std::string compare_text(const Comparison& comparison) {
    std::string text =
        fmt::format("{} cells of {} flashes or more, seed {}; times in ms, dropouts in a million\n"
                    "flashes (late: after the first three of a request)\n\n",
                    comparison.cells.size(), comparison.plan.flashes, comparison.plan.seed);
    int jitter_percent = -1;
    for (const Cell& cell : comparison.cells)
        if (cell.jitter_percent != jitter_percent)
            text += jitter_text(comparison, jitter_percent = cell.jitter_percent);
    return text + verdict(comparison) + "\n" + std::string(caution);
}

std::string compare_markdown(const Comparison& comparison) {
    std::string text =
        "| flasher, period, lit | release mean: fixed fitted | fixed 840 | default | bound "
        "| overlap p99: fixed fitted | fixed 840 | default | bound | late dropouts | misses |\n"
        "|---|--:|--:|--:|--:|--:|--:|--:|--:|--:|---|\n";
    for (std::size_t c = 0; c < comparison.cells.size(); ++c)
        if (comparison.cells[c].jitter_percent == judged_jitter_percent)
            text += fmt::format("| {} | {} | {} |\n", label(comparison.cells[c]),
                                fmt::join(row(comparison.figures[c]), " | "), missed_targets(comparison, c));
    text += "\n| all these cells | release mean | overlap mean | overlap p99, worst cell | acquire mean | "
            "dropouts "
            "| late dropouts | false shows | never shown |\n|---|--:|--:|--:|--:|--:|--:|--:|--:|\n";
    const OverallTable table = overall(comparison, judged_jitter_percent);
    for (const Overall& of : table.rows)
        text += fmt::format("| {} | {} |\n", of.name, fmt::join(table.numbers(of), " | "));
    return text;
}

} // namespace winkhold::host
