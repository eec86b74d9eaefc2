// The rules for people, and as Markdown.
#include "numbers.hpp"
#include "winkhold/host/report/names.hpp"
#include "winkhold/host/report/worth_report.hpp"

#include <algorithm>
#include <fmt/ranges.h>
#include <iterator>

namespace winkhold::host {
namespace {

/// Release mean, overlap mean and p99, acquire mean in ms; dropouts in a million flashes, false shows.
std::vector<std::string> numbers(const DecoderFigures& of, std::int64_t flashes) {
    return {fmt::format("{:.0f}", ms(of.release.mean_us)),   fmt::format("{:.0f}", ms(of.overlap.mean_us)),
            fmt::format("{:.0f}", ms(of.overlap.p99_us)),    fmt::format("{:.1f}", ms(of.acquire.mean_us)),
            short_number(per_million(of.dropouts, flashes)), fmt::format("{}", of.false_shows)};
}

struct Change {
    std::vector<std::string> lost;
    std::vector<std::string> won;
};

Change change(const WorthTable& table, const RuleRow& row) {
    const auto& usual = table.rows.front().faults_passed;
    return {without(usual, row.faults_passed), without(row.faults_passed, usual)};
}

} // namespace

std::vector<std::string> without(const std::vector<std::string>& these,
                                 const std::vector<std::string>& those) {
    std::vector<std::string> rest;
    std::copy_if(these.begin(), these.end(), std::back_inserter(rest), [&](const std::string& id) {
        return std::find(those.begin(), those.end(), id) == those.end();
    });
    return rest;
}

std::string worth_text(const WorthTable& table) {
    std::string text;
    const auto part = [&](const char* title, std::int64_t flashes, const auto& figures) {
        text += fmt::format("{}, {} flashes, seed {}\n\n{:<34}{:>8}{:>11}{:>9}{:>9}{:>8}\n", title, flashes,
                            table.plan.seed, "", "release", "overlap", "acquire", "dropouts", "false");
        text += fmt::format("{:<34}{:>8}{:>6}{:>5}{:>9}{:>9}{:>8}\n", "", "mean", "mean", "p99", "mean",
                            "in 1e6", "shows");
        for (const RuleRow& row : table.rows) {
            const auto n = numbers(figures(row), flashes);
            text += fmt::format("{:<34}{:>8}{:>6}{:>5}{:>9}{:>9}{:>8}\n", row.decoder.name, n[0], n[1], n[2],
                                n[3], n[4], n[5]);
        }
        text += "\n";
    };
    part("Unknown bikes", table.unknown_flashes, [](const RuleRow& row) { return row.unknown; });
    part("Nominal bike, jitter 5 %", table.jittery_flashes, [](const RuleRow& row) { return row.jittery; });
    text += fmt::format("Faults passed (good, or not to be told by timing and flagged so), of {}\n\n",
                        table.faults);
    for (const RuleRow& row : table.rows) {
        text += fmt::format("{:<34}{:>3}\n", row.decoder.name, row.faults_passed.size());
        const Change against_default = change(table, row);
        if (!against_default.lost.empty())
            text += fmt::format("  lost {}\n", fmt::join(against_default.lost, " "));
        if (!against_default.won.empty())
            text += fmt::format("  won  {}\n", fmt::join(against_default.won, " "));
    }
    return text + "\n" + std::string(caution);
}

std::string worth_markdown(const WorthTable& table) {
    std::string text =
        fmt::format("| change | unknown bikes: release | overlap mean / p99 | acquire | dropouts | "
                    "false shows | jitter 5 %: release | overlap mean / p99 | acquire | dropouts | "
                    "false shows | faults passed, of {} |\n"
                    "|---|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|---|\n",
                    table.faults);
    for (const RuleRow& row : table.rows) {
        text += fmt::format("| {} |", row.decoder.name);
        const auto part = [&](const DecoderFigures& of, std::int64_t flashes) {
            const auto n = numbers(of, flashes);
            text += fmt::format(" {} | {} / {} | {} | {} | {} |", n[0], n[1], n[2], n[3], n[4], n[5]);
        };
        part(row.unknown, table.unknown_flashes);
        part(row.jittery, table.jittery_flashes);
        const Change against_default = change(table, row);
        text += fmt::format(" {}", row.faults_passed.size());
        for (const std::string& id : against_default.lost)
            text += fmt::format(" −{}", id);
        for (const std::string& id : against_default.won)
            text += fmt::format(" +{}", id);
        text += " |\n";
    }
    return text;
}

} // namespace winkhold::host
