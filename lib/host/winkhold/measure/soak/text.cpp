// The soak for people.
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/table.hpp"
#include "winkhold/measure/soak/report.hpp"

#include <fmt/format.h>

namespace winkhold::measure {
namespace {

constexpr std::array<std::string_view, 3> titles{"Settings as set, any bike", "Drawn settings, any bike",
                                                 "Settings as set, disturbed lines"};

std::string head(std::size_t p, const PopulationTally& population) {
    constexpr Align right = Align::right;
    Table table{{"", {"count", right}, {"mean ms", right}, {"worst ms", right}, {"in ride", right}}};
    for (std::size_t i = 0; i < soak_figures.size(); ++i) {
        const SoakCount& worst = population.latencies[i].worst;
        if (worst.count == 0) continue;
        table.rows.push_back(
            {std::string(soak_figures[i]), fmt::format("{}", worst.count),
             fmt::format("{:.1f}", ms(population.latencies[i].sum_us) / static_cast<double>(worst.count)),
             fmt::format("{:.1f}", ms(worst.worst_us)), fmt::format("{}", worst.ride)});
    }
    return fmt::format("{}: {} rides, {} flashes\n\n", titles[p], population.rides, population.flashes) +
           table_text(table, 2) + "\n";
}

void add_rows(Table& table, const PopulationTally& population, Blame blame) {
    for (std::size_t kind = 0; kind < soak_kinds.size(); ++kind)
        for (std::size_t cause = 0; cause < soak_causes.size(); ++cause) {
            const SoakCount& count = population.findings[kind][cause];
            if (soak_causes[cause].blame != blame || count.count == 0) continue;
            table.rows.push_back({std::string(soak_kinds[kind]), std::string(soak_causes[cause].name),
                                  fmt::format("{}", count.count),
                                  fmt::format("{:.2f}", per_million(count.count, population.flashes)),
                                  count.worst_us > 0 ? fmt::format("{:.1f}", ms(count.worst_us)) : "-",
                                  fmt::format("{}", count.ride)});
        }
}

std::string findings(const PopulationTally& population) {
    constexpr std::array<const char*, 3> titles_of{"asked too much of these settings", "the price of a rule",
                                                   "unexplained"};
    constexpr Align right = Align::right;
    Table table{
        {"", "cause", {"count", right}, {"per 10^6", right}, {"worst ms", right}, {"in ride", right}}};
    for (std::size_t blame = 0; blame < blames.size(); ++blame) {
        table.rows.push_back({titles_of[blame]});
        add_rows(table, population, static_cast<Blame>(blame));
        if (table.rows.back().size() == 1) table.rows.back()[0] += ": none";
    }
    return table_text(table, 2) + "\n";
}

std::string causes() {
    Table table{{"", ""}};
    for (const CauseText& cause : soak_causes)
        table.rows.push_back({std::string(cause.name), std::string(cause.meaning)});
    return "Causes:\n" + table_text(table, 2) + "\n";
}

} // namespace

std::string soak_text(const SoakPlan& plan, const SoakTally& tally) {
    std::string out = fmt::format("Soak over {} flashes, seed {}\n\n", tally.flashes(), plan.seed);
    for (std::size_t p = 0; p < soak_populations.size(); ++p)
        if (tally.populations[p].flashes > 0)
            out += head(p, tally.populations[p]) + findings(tally.populations[p]);
    return out + causes() + std::string(caution);
}

} // namespace winkhold::measure
