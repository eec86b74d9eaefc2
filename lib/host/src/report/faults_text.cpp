#include "report/wrapped.hpp"
#include "winkhold/host/report/faults_report.hpp"
#include "winkhold/host/report/names.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace winkhold::host {
namespace {

constexpr std::size_t columns = 80;

std::string figure(const Measure& measure) {
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
    return fmt::format("; in: {}", fmt::join(result.short_variants, ", "));
}

std::string table(const FaultRun& run, std::size_t decoder) {
    std::string out = fmt::format("{}\n\n  {:<8}{:<29}{:<28}{}\n", run.decoders[decoder].name, "fault", "",
                                  "worst figure of its limit", "verdict");
    for (std::size_t i = 0; i < run.faults.size(); ++i) {
        const FaultResult& result = run.results[i][decoder];
        out += fmt::format("  {:<8}{:<29}{:<28}{}\n", run.faults[i].id, run.faults[i].title,
                           figure(result.worst), name(result.verdict));
    }
    return out + "\n";
}

std::string shortcomings(const FaultRun& run, std::size_t decoder) {
    std::string out;
    for (std::size_t i = 0; i < run.faults.size(); ++i) {
        const FaultResult& result = run.results[i][decoder];
        if (result.verdict == Verdict::good) continue;
        const std::string lead(10, ' ');
        out += wrapped(fmt::format("  {:<8}", run.faults[i].id), lead,
                       fmt::format("{}: {} ({}); {} of {} rides; broken: {}{}", name(result.verdict),
                                   figure(result.worst), where(result),
                                   result.verdict == Verdict::falls_short ? result.rides_short
                                                                          : result.rides_cannot_tell,
                                   result.rides, fmt::join(result.broken, ", "), variants(result)),
                       columns);
        out += wrapped(lead + "good: ", lead, run.faults[i].good, columns);
    }
    if (out.empty()) return "Good behaviour throughout.\n\n";
    return "Where it is not good, and what good would be:\n\n" + out + "\n";
}

} // namespace

std::string faults_text(const FaultRun& run) {
    std::string out = fmt::format("{} fault{}, seeds 1 to {} for each variant\n\n", run.faults.size(),
                                  run.faults.size() == 1 ? "" : "s", run.seeds);
    for (std::size_t decoder = 0; decoder < run.decoders.size(); ++decoder)
        out += table(run, decoder) + shortcomings(run, decoder);
    return out + std::string(caution);
}

} // namespace winkhold::host
