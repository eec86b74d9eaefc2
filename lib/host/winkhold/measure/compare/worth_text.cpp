// The rules for people, and as Markdown.
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/joined.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/table.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/measure/compare/worth_report.hpp"

#include <algorithm>
#include <iterator>

namespace winkhold::measure {
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
        constexpr Align right = Align::right;
        Table of{{"",
                  {"mean", right, "release"},
                  {"mean", right, "overlap"},
                  {"p99", right, "overlap"},
                  {"mean", right, "acquire"},
                  {"in 1e6", right, "dropouts"},
                  {"shows", right, "false"}}};
        for (const RuleRow& row : table.rows) {
            of.rows.push_back(numbers(figures(row), flashes));
            of.rows.back().insert(of.rows.back().begin(), row.decoder.name);
        }
        text += fmt::format("{}, {} flashes, seed {}\n\n", title, flashes, table.plan.seed) + table_text(of) +
                "\n";
    };
    part("Unknown bikes", table.unknown_flashes, [](const RuleRow& row) { return row.unknown; });
    part("Nominal bike, jitter 5 %", table.jittery_flashes, [](const RuleRow& row) { return row.jittery; });
    Table faults{
        {"", {"dropouts", Align::right, "families"}, {"passed", Align::right, "faults"}, "lost", "won"}};
    for (const RuleRow& row : table.rows) {
        const Change against_default = change(table, row);
        faults.rows.push_back({row.decoder.name, fmt::format("{:.3f}", row.family_dropouts),
                               fmt::format("{}", row.faults_passed.size()), joined(against_default.lost, " "),
                               joined(against_default.won, " ")});
    }
    text += fmt::format("{} families of imperfect lines: mean dropouts a request. Faults passed (good, or\n"
                        "not to be told by timing and flagged so), of {}\n\n",
                        table.families, table.faults);
    return text + table_text(without_empty_columns(faults)) + "\n" + std::string(caution);
}

std::string worth_markdown(const WorthTable& table) {
    Table all{{"change"}};
    for (const char* part : {"unknown bikes", "jitter 5 %"})
        for (const char* figure : {"release", "overlap mean / p99", "acquire", "dropouts", "false shows"})
            all.columns.emplace_back(figure, Align::right, part);
    all.columns.emplace_back("dropouts a request", Align::right, fmt::format("{} families", table.families));
    all.columns.emplace_back(fmt::format("faults passed, of {}", table.faults));
    for (const RuleRow& row : table.rows) {
        std::vector<std::string> cells{row.decoder.name};
        const auto part = [&](const DecoderFigures& of, std::int64_t flashes) {
            const auto n = numbers(of, flashes);
            cells.insert(cells.end(), {n[0], n[1] + " / " + n[2], n[3], n[4], n[5]});
        };
        part(row.unknown, table.unknown_flashes);
        part(row.jittery, table.jittery_flashes);
        const Change against_default = change(table, row);
        cells.push_back(fmt::format("{:.3f}", row.family_dropouts));
        cells.push_back(fmt::format("{}", row.faults_passed.size()));
        for (const std::string& id : against_default.lost)
            cells.back() += fmt::format(" −{}", id);
        for (const std::string& id : against_default.won)
            cells.back() += fmt::format(" +{}", id);
        all.rows.push_back(std::move(cells));
    }
    return table_markdown(all);
}

} // namespace winkhold::measure
