// The comparison for people, and as Markdown.
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/joined.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/table.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/measure/compare/report.hpp"

#include <algorithm>
#include <array>

namespace winkhold::measure {
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
    return joined(list, "; ");
}

std::string verdict(const Comparison& comparison) {
    std::string text;
    for (std::size_t c = 0; c < comparison.cells.size(); ++c)
        if (const std::string missed = missed_targets(comparison, c); !missed.empty())
            text += wrapped("  ", "    ", fmt::format("{}: {}", label(comparison.cells[c]), missed));
    return text.empty()
               ? "The default decoder meets every target.\n"
               : fmt::format("The default decoder misses, at {} % jitter:\n", judged_jitter_percent) + text;
}

/// What the columns of a table are called: `decoders` and the bound, for release and for overlap.
struct Heads {
    std::array<const char*, 3> decoders;
    const char* release;
    const char* overlap;
    const char* late;
};

/// A row for each cell of one jitter.
Table cells_table(const Comparison& comparison, int jitter_percent, const Heads& heads) {
    Table table{{"flasher, period, lit"}};
    for (const char* figure : {heads.release, heads.overlap}) {
        for (const char* decoder : heads.decoders)
            table.columns.emplace_back(decoder, Align::right, figure);
        table.columns.emplace_back("bound", Align::right, figure);
    }
    table.columns.emplace_back(heads.late, Align::right);
    for (std::size_t c = 0; c < comparison.cells.size(); ++c) {
        if (comparison.cells[c].jitter_percent != jitter_percent) continue;
        std::vector<std::string> cells = row(comparison.figures[c]);
        cells.insert(cells.begin(), label(comparison.cells[c]));
        table.rows.push_back(std::move(cells));
    }
    return table;
}

/// A row for each decoder, and for the bound.
Table overall_table(const Comparison& comparison, int jitter_percent, std::vector<Column> columns) {
    Table table{std::move(columns)};
    const OverallTable all = overall(comparison, jitter_percent);
    for (const Overall& of : all.rows) {
        std::vector<std::string> cells = all.numbers(of);
        cells.insert(cells.begin(), of.name);
        table.rows.push_back(std::move(cells));
    }
    return table;
}

std::string jitter_text(const Comparison& comparison, int jitter_percent) {
    Table cells =
        cells_table(comparison, jitter_percent,
                    {{"fitted", "840", "def."}, "mean release, ms", "overlap p99, ms", "late in 1e6"});
    cells.between = 1;
    constexpr Align right = Align::right;
    return fmt::format("Jitter {} %\n\n", jitter_percent) + table_text(cells) + "\n" +
           table_text(overall_table(comparison, jitter_percent,
                                    {{"all cells, worst p99"},
                                     {"mean", right, "release"},
                                     {"mean", right, "overlap"},
                                     {"p99", right, "overlap"},
                                     {"mean", right, "acquire"},
                                     {"all", right, "dropouts"},
                                     {"late", right, "dropouts"},
                                     {"false shows", right},
                                     {"never shown", right}})) +
           "\n";
}

} // namespace

std::string compare_text(const Comparison& comparison) {
    std::string text =
        fmt::format("{} cells of {} flashes or more, seed {}; times in ms, dropouts in a million\n"
                    "flashes (late: after the first three of a request); requests after the first {}\n"
                    "flashes of a ride\n\n",
                    comparison.cells.size(), comparison.plan.flashes, comparison.plan.seed, known_flashes);
    int jitter_percent = -1;
    for (const Cell& cell : comparison.cells)
        if (cell.jitter_percent != jitter_percent)
            text += jitter_text(comparison, jitter_percent = cell.jitter_percent);
    return text + verdict(comparison) + "\n" + std::string(caution);
}

std::string compare_markdown(const Comparison& comparison) {
    Table cells = cells_table(
        comparison, judged_jitter_percent,
        {{"fixed fitted", "fixed 840", "default"}, "release mean", "overlap p99", "late dropouts"});
    cells.columns.emplace_back("misses");
    std::size_t row = 0;
    for (std::size_t c = 0; c < comparison.cells.size(); ++c)
        if (comparison.cells[c].jitter_percent == judged_jitter_percent)
            cells.rows[row++].push_back(missed_targets(comparison, c));
    constexpr Align right = Align::right;
    return table_markdown(cells) + "\n" +
           table_markdown(overall_table(comparison, judged_jitter_percent,
                                        {{"all these cells"},
                                         {"release mean", right},
                                         {"overlap mean", right},
                                         {"overlap p99, worst cell", right},
                                         {"acquire mean", right},
                                         {"dropouts", right},
                                         {"late dropouts", right},
                                         {"false shows", right},
                                         {"never shown", right}}));
}

} // namespace winkhold::measure
