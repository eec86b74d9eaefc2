#include "winkhold/base/joined.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/table.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/measure/faults/report.hpp"

#include <fmt/format.h>

namespace winkhold::measure {
namespace {

std::string figure(const FaultFigure& measure) {
    if (measure.is_time)
        return fmt::format("{} {:.0f} of {:.0f} ms", measure.what, static_cast<double>(measure.value) / 1e3,
                           static_cast<double>(measure.limit) / 1e3);
    if (measure.is_statement) return measure.broken() ? measure.what : "as it should be";
    return fmt::format("{} {} of {}", measure.what, measure.value, measure.limit);
}

std::string where(const FaultResult& result) {
    return result.worst_variant.empty() ? fmt::format("seed {}", result.worst_seed)
                                        : fmt::format("seed {}, {}", result.worst_seed, result.worst_variant);
}

std::string variants(const FaultResult& result) {
    if (result.short_variants.empty()) return {};
    return fmt::format("; in: {}", joined(result.short_variants, ", "));
}

std::string verdicts(const FaultRun& run, std::size_t decoder) {
    Table table{{"fault", "", "worst figure of its limit", "verdict"}};
    for (std::size_t i = 0; i < run.faults.size(); ++i) {
        const FaultResult& result = run.results[i][decoder];
        table.rows.push_back(
            {run.faults[i].id, run.faults[i].title, figure(result.worst), std::string(name(result.verdict))});
    }
    return run.decoders[decoder].name + "\n\n" + table_text(table, 2) + "\n";
}

std::string shortcomings(const FaultRun& run, std::size_t decoder) {
    std::string out;
    for (std::size_t i = 0; i < run.faults.size(); ++i) {
        const FaultResult& result = run.results[i][decoder];
        if (result.verdict == FaultVerdict::good) continue;
        const std::string lead(10, ' ');
        out += wrapped(fmt::format("  {:<8}", run.faults[i].id), lead,
                       fmt::format("{}: {} ({}); {} of {} rides; broken: {}{}", name(result.verdict),
                                   figure(result.worst), where(result),
                                   result.verdict == FaultVerdict::falls_short ? result.rides_short
                                                                               : result.rides_cannot_tell,
                                   result.rides, joined(result.broken, ", "), variants(result)));
        out += wrapped(lead + "good: ", lead, run.faults[i].good);
    }
    if (out.empty()) return "Good behaviour throughout.\n\n";
    return "Where it is not good, and what good would be:\n\n" + out + "\n";
}

} // namespace

std::string faults_text(const FaultRun& run) {
    std::string out = fmt::format("{} fault{}, seeds 1 to {} for each variant\n\n", run.faults.size(),
                                  run.faults.size() == 1 ? "" : "s", run.seeds);
    for (std::size_t decoder = 0; decoder < run.decoders.size(); ++decoder)
        out += verdicts(run, decoder) + shortcomings(run, decoder);
    return out + std::string(caution);
}

} // namespace winkhold::measure
