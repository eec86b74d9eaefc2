// The families for people, and as Markdown.
#include "winkhold/base/joined.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/table.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/measure/families/report.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::measure {
namespace {

constexpr std::size_t most_mixtures_told = 10;

std::string title(const FamilyRun& run, const FamilyRow& row) {
    std::vector<std::string> titles;
    for (const std::size_t i : row.families)
        titles.push_back(run.families[i].title);
    return joined(titles, " + ");
}

std::string rate(double a_request) {
    return fmt::format("{:.3f}", a_request);
}

/// Dropouts a request, ms away a request, false shows a request.
std::vector<std::string> numbers(const FamilyFigures& of) {
    return {rate(of.dropout_rate()), fmt::format("{:.1f}", of.per_request(of.away_us) / 1e3),
            rate(of.false_show_rate())};
}

std::vector<std::string> cells(const std::string& head, const std::vector<FamilyFigures>& of) {
    std::vector<std::string> cells{head};
    for (const FamilyFigures& figures : of) {
        const auto more = numbers(figures);
        cells.insert(cells.end(), more.begin(), more.end());
    }
    cells.push_back(fmt::format("{}", of.front().lone_hazards));
    return cells;
}

Table table_of(const FamilyReport& report) {
    constexpr Align right = Align::right;
    Table table{{"family"}};
    for (const std::string& decoder : report.decoders)
        for (const char* figure : {"drops", "ms", "false"})
            table.columns.emplace_back(figure, right, decoder);
    table.columns.emplace_back("alone", right);
    const std::size_t families = report.run.families.size();
    for (std::size_t i = 0; i < families; ++i)
        table.rows.push_back(cells(report.run.families[i].title, report.run.rows[i].all));
    std::vector<std::string> mean{"mean dropouts"};
    for (std::size_t d = 0; d < report.decoders.size(); ++d)
        mean.insert(mean.end(), {rate(mean_dropout_rate(report.run, d)), "", ""});
    mean.emplace_back();
    table.rows.push_back(std::move(mean));
    return table;
}

/// The variant with most of what is missed.
std::string worst_variant(const FamilyRun& run, const FamilyMiss& miss) {
    const FamilyRow& row = run.rows[miss.row];
    if (row.variants.size() < 2) return {};
    const auto count = [&](const std::vector<FamilyFigures>& of) {
        const FamilyFigures& mine = of.front();
        return mine.per_request(miss.what == FamilyMiss::What::dropouts      ? mine.dropouts
                                : miss.what == FamilyMiss::What::false_shows ? mine.false_shows
                                                                             : mine.lone_hazards);
    };
    const auto worst = std::max_element(row.variants.begin(), row.variants.end(),
                                        [&](const auto& a, const auto& b) { return count(a) < count(b); });
    const auto variant = static_cast<std::size_t>(worst - row.variants.begin());
    return fmt::format(" (most in: {})", run.families[row.families.front()].variants[variant].name);
}

/// All that one row misses.
struct RowMisses {
    std::size_t row;
    double excess; ///< the sum of what is beyond the limits, to tell the worst
    std::vector<std::string> figures;
};

std::vector<RowMisses> by_row(const FamilyReport& report) {
    std::vector<RowMisses> rows;
    for (const FamilyMiss& miss : report.verdict.misses) {
        if (rows.empty() || rows.back().row != miss.row) rows.push_back({miss.row, 0, {}});
        const bool lone = miss.what == FamilyMiss::What::lone_hazards;
        const auto requests = static_cast<double>(report.run.rows[miss.row].all.front().requests);
        rows.back().excess += lone ? miss.value / requests : miss.value - miss.limit;
        rows.back().figures.push_back(
            (lone ? fmt::format("{} {:.0f} times", name(miss.what), miss.value)
                  : fmt::format("{} {}, at most {}", name(miss.what), rate(miss.value), rate(miss.limit))) +
            worst_variant(report.run, miss));
    }
    return rows;
}

std::string told(const FamilyReport& report, const RowMisses& misses) {
    return wrapped(
        "  ", "    ",
        fmt::format("{}: {}", title(report.run, report.run.rows[misses.row]), joined(misses.figures, "; ")));
}

std::string goals(const FamilyReport& report) {
    std::string text = "Goals for the default, a request:\n";
    if (report.verdict.mean_dropouts)
        text += fmt::format("  mean dropouts of all families: at most {}\n", rate(most_mean_dropouts));
    return text + fmt::format("  dropouts: at most the plain hold's + {} for each family in a row\n"
                              "  false shows: at most the plain hold's + {}\n"
                              "  hazards shown as one side alone: none\n",
                              rate(more_dropouts), rate(more_false_shows));
}

std::string verdict(const FamilyReport& report) {
    if (report.verdict.good()) return "All are met.\n";
    std::vector<RowMisses> alone = by_row(report);
    const auto first_mixture = std::find_if(alone.begin(), alone.end(), [&](const RowMisses& misses) {
        return report.run.rows[misses.row].families.size() > 1;
    });
    std::vector<RowMisses> mixed(first_mixture, alone.end());
    alone.erase(first_mixture, alone.end());
    std::string text = "Missed:\n";
    if (report.verdict.mean_is_over())
        text += fmt::format("  mean dropouts {}\n", rate(*report.verdict.mean_dropouts));
    for (const RowMisses& misses : alone)
        text += told(report, misses);
    std::stable_sort(mixed.begin(), mixed.end(),
                     [](const RowMisses& a, const RowMisses& b) { return a.excess > b.excess; });
    for (std::size_t i = 0; i < std::min(mixed.size(), most_mixtures_told); ++i)
        text += told(report, mixed[i]);
    if (mixed.size() > most_mixtures_told)
        text += fmt::format("  and {} more mixtures; --json has all\n", mixed.size() - most_mixtures_told);
    return text;
}

} // namespace

std::string families_text(const FamilyReport& report) {
    Table table = table_of(report);
    table.between = 1;
    return fmt::format("{} families, {} rides of each variant; {} mixtures, {} rides of each; seed {}\n"
                       "a request: dropouts, ms away, false shows; hazards shown as one side alone\n\n",
                       report.run.families.size(), report.plan.rides,
                       report.run.rows.size() - report.run.families.size(), report.plan.mixed_rides,
                       report.plan.seed) +
           table_text(table) + "\n" + goals(report) + verdict(report) + "\n" + std::string(caution);
}

std::string families_markdown(const FamilyReport& report) {
    return table_markdown(table_of(report));
}

} // namespace winkhold::measure
