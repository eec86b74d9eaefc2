#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/joined.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/bike/limits/report.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

const std::string indent(6, ' ');

/// Enough decimals to see a margin however small.
int decimals(const Finding& finding) {
    constexpr int usual[] = {1, 3, 1, 3, 1, 1, 2, 0, 0, 0}; // as Unit goes
    constexpr int most = 6;
    const int least = usual[static_cast<std::size_t>(finding.limit.unit)];
    const double margin = std::abs(*finding.margin);
    if (margin == 0) return least;
    return std::clamp(static_cast<int>(std::ceil(-std::log10(margin))) + 1, least, std::max(least, most));
}

std::string with_unit(const std::string& number, Unit unit) {
    const bool close = unit == Unit::per_minute || unit == Unit::percent;
    return fmt::format("{}{}{}", number, close || unit == Unit::none ? "" : " ", name(unit));
}

std::string allowed(const Limit& limit) {
    const std::string numbers = limit.least && limit.most
                                    ? fmt::format("{:g} to {:g}", *limit.least, *limit.most)
                                : limit.least ? fmt::format("at least {:g}", *limit.least)
                                              : fmt::format("at most {:g}", *limit.most);
    return with_unit(numbers, limit.unit);
}

std::string figures(const Finding& finding) {
    if (finding.limit.measure == LimitMeasure::by_hand) return "to be judged by hand";
    if (!finding.value) return allowed(finding.limit);
    const int digits = decimals(finding);
    const std::string value = with_unit(fmt::format("{:.{}f}", *finding.value, digits), finding.limit.unit);
    return fmt::format("{}{}, {}, margin {:.{}f}", finding.at_least ? "over " : "", value,
                       allowed(finding.limit), *finding.margin, digits);
}

std::string source(const Limit& limit) {
    return fmt::format("{}, {} ({}){}{}", limit.publication, limit.clause, name(limit.mark),
                       limit.note.empty() ? "" : ": ", limit.note);
}

std::string measured(const Finding& finding) {
    std::string text = finding.where;
    if (finding.at_us != 0 || finding.rate)
        text += fmt::format(" from {:.3f} s", static_cast<double>(finding.at_us) / 1e6);
    if (finding.trial > 0) text += fmt::format(" of trial {}", finding.trial);
    if (finding.rate)
        text += fmt::format(": {:.1f}/min as the mean of {} cycles' rates, {:.1f}/min from their mean period",
                            finding.rate->mean_of_rates_per_min, finding.rate->cycles,
                            finding.rate->of_mean_period_per_min);
    return text + (finding.readings > 1 ? fmt::format("; the worst of {}", finding.readings) : "");
}

std::string finding_text(const Finding& finding) {
    const std::string title = legible(finding.limit.what);
    constexpr std::size_t beside = 32; // figures stand beside a title that leaves room for them
    std::string text =
        width_of(title) < beside
            ? wrapped(fmt::format("  {:<{}}", title, beside), std::string(beside + 2, ' '), figures(finding))
            : wrapped("  ", "    ", title) + wrapped(indent, indent, figures(finding));
    if (finding.value) text += wrapped(indent, indent, legible(measured(finding)));
    if (!finding.why.empty()) text += wrapped(indent, indent, legible(finding.why));
    return text + wrapped(indent, indent, legible(source(finding.limit)));
}

/// Before anything else is read.
std::string assumed_text(const Judgement& judgement) {
    const Profile& profile = judgement.profile;
    std::vector<std::string> what;
    for (const std::string& one : judgement.assumed)
        what.push_back(fmt::format("{} {}", one, one == "place" ? profile.place : profile.kind));
    return fmt::format("Assumed, because nobody who knows the bike says it: {}. What holds for that alone "
                       "can break here, but "
                       "nothing of it is kept.",
                       joined(what, ", "));
}

} // namespace

std::string limits_text(const Judgement& judgement, const std::string& title) {
    const Profile& profile = judgement.profile;
    std::string text = wrapped(
        "", "  ",
        legible(fmt::format("{}: {} (place {}, {})", title, profile.title, profile.place, profile.kind)));
    if (!judgement.still_example.notice.empty())
        text += wrapped("", "  ", legible(judgement.still_example.notice));
    if (!judgement.assumed.empty()) text += wrapped("", "  ", legible(assumed_text(judgement)));
    for (const std::string& warning : judgement.warnings)
        text += wrapped("Warning: ", "  ", warning);
    text += fmt::format("{} broken, {} kept, {} not judged\n", judgement.count(Ruling::broken),
                        judgement.count(Ruling::kept), judgement.count(Ruling::not_judged));
    for (const auto& [ruling, heading] :
         {std::pair{Ruling::broken, "Broken"}, std::pair{Ruling::kept, "Kept"},
          std::pair{Ruling::not_judged, "Not judged, and so not passed"}}) {
        if (judgement.count(ruling) == 0) continue;
        text += fmt::format("\n{}\n", heading);
        for (const Finding& finding : judgement.findings)
            if (finding.ruling == ruling) text += finding_text(finding);
    }
    if (!judgement.notes.empty()) text += "\nNotes\n";
    for (const std::string& note : judgement.notes)
        text += wrapped("- ", "  ", legible(note));
    return text + "\nLocal law and a licensed inspector decide, not this list.\n" + std::string(caution);
}

} // namespace winkhold::bike
