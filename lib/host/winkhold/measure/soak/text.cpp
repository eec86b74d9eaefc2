// The soak for people.
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/table.hpp"
#include "winkhold/measure/soak/report.hpp"

#include <fmt/format.h>

namespace winkhold::measure {
namespace {

constexpr std::array<std::string_view, 3> titles{"Settings as set, any bike", "Drawn settings, any bike",
                                                 "Settings as set, imperfect lines"};
constexpr const char* plain_title = "plain 840 ms hold";

constexpr std::array<std::string_view, 3> error_names{"dropouts", "false shows", "missed"};

std::array<std::int64_t, 3> counts(const SoakErrors& of) {
    return {of.dropouts, of.false_shows, of.missed};
}

std::string head(std::size_t p, const PopulationTally& population) {
    constexpr Align right = Align::right;
    constexpr const char* set = "as set";
    const char* const own = static_cast<SoakPopulation>(p) == SoakPopulation::drawn_settings ? "drawn" : set;
    Table table{{"",
                 {"count", right, own},
                 {"mean ms", right, own},
                 {"worst ms", right, own},
                 {"in ride", right, own},
                 {"count", right, plain_title},
                 {"mean ms", right, plain_title},
                 {"worst ms", right, plain_title}}};
    const auto errors = counts(population.errors());
    const auto plain_errors = counts(population.plain);
    for (std::size_t i = 0; i < errors.size(); ++i)
        table.rows.push_back({std::string(error_names[i]), fmt::format("{}", errors[i]), "", "", "",
                              fmt::format("{}", plain_errors[i]), "", ""});
    for (std::size_t i = 0; i < soak_figures.size(); ++i) {
        const SoakLatency& own_latency = population.latencies[i];
        if (own_latency.worst.count == 0) continue;
        std::vector<std::string> row{std::string(soak_figures[i])};
        for (const SoakLatency* latency : {&own_latency, &population.plain_latencies[i]}) {
            const SoakCount& worst = latency->worst;
            row.push_back(fmt::format("{}", worst.count));
            row.push_back(fmt::format("{:.1f}", ms(latency->sum_us) / static_cast<double>(worst.count)));
            row.push_back(fmt::format("{:.1f}", ms(worst.worst_us)));
            if (latency == &own_latency) row.push_back(fmt::format("{}", worst.ride));
        }
        table.rows.push_back(std::move(row));
    }
    table.between = 1;
    return fmt::format("{}: {} rides, {} flashes\n\n", titles[p], population.rides, population.flashes) +
           table_text(table, 2) + "\n";
}

std::string axes(const SoakTally& tally) {
    constexpr Align right = Align::right;
    Table table{{"imperfect lines", {"requests", right}}};
    for (const char* what : {"dropouts", "false shows"})
        for (const char* decoder : {"as set", "plain"})
            table.columns.emplace_back(decoder, right, what);
    for (std::size_t i = 0; i < soak_axes.size(); ++i) {
        const AxisTally& axis = tally.axes[i];
        std::vector<std::string> row{std::string(soak_axes[i]), fmt::format("{}", axis.requests)};
        for (const auto count : {&SoakErrors::dropouts, &SoakErrors::false_shows})
            for (const SoakErrors* of : {&axis.errors, &axis.plain})
                row.push_back(axis.requests == 0
                                  ? "-"
                                  : fmt::format("{:.3f}", static_cast<double>(of->*count) /
                                                              static_cast<double>(axis.requests)));
        table.rows.push_back(std::move(row));
    }
    return "Each kind of imperfect line, alone or with one or two others; a request\n\n" +
           table_text(table, 2) + "\n";
}

std::string misses(const SoakTally& tally) {
    const std::vector<SoakMiss> misses = tally.misses();
    if (misses.empty()) return "Nothing is worse than under the plain hold.\n\n";
    std::string out = "Worse than the plain hold allows, a request:\n";
    for (const SoakMiss& miss : misses)
        out +=
            fmt::format("  {}: {} {:.3f}, at most {:.3f}\n", miss.where, miss.what, miss.value, miss.limit);
    return out + "\n";
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
    return out + axes(tally) + misses(tally) + causes() + std::string(caution);
}

} // namespace winkhold::measure
