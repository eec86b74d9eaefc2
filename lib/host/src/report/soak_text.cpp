// The soak for people.
#include "winkhold/host/report/names.hpp"
#include "winkhold/host/report/soak_report.hpp"

#include <fmt/format.h>

namespace winkhold::host {
namespace {

constexpr std::array<std::string_view, 2> titles{"Settings as set, any bike", "Drawn settings, any bike"};

double ms(TimeUs us) {
    return static_cast<double>(us) / 1e3;
}

std::string head(std::size_t p, const PopulationTally& population) {
    std::string out =
        fmt::format("{}: {} rides, {} flashes\n\n  {:<22}{:>12}{:>12}{:>12}{:>14}\n", titles[p],
                    population.rides, population.flashes, "", "count", "mean ms", "worst ms", "in ride");
    for (std::size_t i = 0; i < soak_figures.size(); ++i) {
        const SoakCount& worst = population.latencies[i].worst;
        if (worst.count == 0) continue;
        out += fmt::format("  {:<22}{:>12}{:>12.1f}{:>12.1f}{:>14}\n", soak_figures[i], worst.count,
                           ms(population.latencies[i].sum_us) / static_cast<double>(worst.count),
                           ms(worst.worst_us), worst.ride);
    }
    return out + "\n";
}

std::string rows(const PopulationTally& population, Blame blame) {
    std::string out;
    for (std::size_t kind = 0; kind < soak_kinds.size(); ++kind)
        for (std::size_t cause = 0; cause < soak_causes.size(); ++cause) {
            const SoakCount& count = population.findings[kind][cause];
            if (soak_causes[cause].blame != blame || count.count == 0) continue;
            const std::string worst =
                count.worst_us > 0 ? fmt::format("{:.1f}", ms(count.worst_us)) : std::string("-");
            out += fmt::format(
                "  {:<13}{:<27}{:>10}{:>10.2f}{:>10}{:>13}\n", soak_kinds[kind], soak_causes[cause].name,
                count.count, 1e6 * static_cast<double>(count.count) / static_cast<double>(population.flashes),
                worst, count.ride);
        }
    return out;
}

std::string findings(const PopulationTally& population) {
    constexpr std::array<std::string_view, 3> titles_of{"asked too much of these settings",
                                                        "the price of a rule", "unexplained"};
    std::string out = fmt::format("  {:<13}{:<27}{:>10}{:>10}{:>10}{:>13}\n", "", "cause", "count",
                                  "per 10^6", "worst ms", "in ride");
    for (std::size_t blame = 0; blame < blames.size(); ++blame) {
        const std::string of = rows(population, static_cast<Blame>(blame));
        out += fmt::format("  {}{}\n{}", titles_of[blame], of.empty() ? ": none" : "", of);
    }
    return out + "\n";
}

std::string causes() {
    std::string out = "Causes:\n";
    for (const CauseText& cause : soak_causes)
        out += fmt::format("  {:<27}{}\n", cause.name, cause.meaning);
    return out + "\n";
}

} // namespace

std::string soak_text(const SoakPlan& plan, const SoakTally& tally) {
    std::string out = fmt::format("Soak over {} flashes, seed {}\n\n", tally.flashes(), plan.seed);
    for (std::size_t p = 0; p < soak_populations.size(); ++p)
        if (tally.populations[p].flashes > 0)
            out += head(p, tally.populations[p]) + findings(tally.populations[p]);
    return out + causes() + std::string(caution);
}

} // namespace winkhold::host
