#include "winkhold/measure/faults/judge.hpp"

#include "winkhold/base/names.hpp"
#include "winkhold/measure/score/figures.hpp"

#include <algorithm>

namespace winkhold::measure {
namespace {

using core::Indication;

Indication only(core::Side side, Indication show) {
    if (!core::shows(show, side)) return Indication::off;
    return side == core::Side::left ? Indication::left : Indication::right;
}

void leave_out_the_other_side(core::Side side, Truth& truth, Timeline& timeline) {
    for (Request& request : truth.requests)
        request.show = only(side, request.show);
    std::erase_if(truth.requests, [](const Request& request) { return request.show == Indication::off; });
    Timeline kept;
    for (const IndicationChange& change : timeline)
        if (kept.empty() || kept.back().indication != only(side, change.indication))
            kept.push_back({change.t_us, only(side, change.indication)});
    timeline = std::move(kept);
}

/// Calls span(show, from_us, to_us) for each stretch of the answer.
template <class Span>
void for_each_span(const Timeline& timeline, TimeUs end_us, Span&& span) {
    for (std::size_t i = 0; i < timeline.size(); ++i)
        span(timeline[i].indication, timeline[i].t_us,
             i + 1 < timeline.size() ? timeline[i + 1].t_us : end_us);
}

TimeUs longest_outage_us(const Truth& truth, const Timeline& timeline) {
    TimeUs longest_us = 0;
    for_each_event(
        truth,
        [&](const AskedSide& asked) {
            bool seen = false;
            for_each_span(timeline, truth.end_us, [&](Indication show, TimeUs from_us, TimeUs to_us) {
                from_us = std::max(from_us, asked.watched_from_us);
                to_us = std::min(to_us, asked.end_us);
                if (from_us >= to_us) return;
                if (core::shows(show, asked.side))
                    seen = true;
                else if (seen)
                    longest_us = std::max(longest_us, to_us - from_us);
            });
        },
        [](const Change&) {});
    return longest_us;
}

TimeUs shown_us(Indication which, const Timeline& timeline, TimeUs end_us) {
    TimeUs sum_us = 0;
    for_each_span(timeline, end_us, [&](Indication show, TimeUs from_us, TimeUs to_us) {
        if (show == which) sum_us += to_us - from_us;
    });
    return sum_us;
}

TimeUs longest(const std::vector<TimeUs>& values_us) {
    return values_us.empty() ? 0 : *std::max_element(values_us.begin(), values_us.end());
}

} // namespace

double FaultFigure::strain() const {
    const auto of = static_cast<double>(value);
    return limit > 0 ? of / static_cast<double>(limit) : of == 0 ? 0 : 1 + of;
}

bool raised(unsigned flags, const std::vector<std::string>& names) {
    for (unsigned bit = 1; bit <= 0x80; bit <<= 1)
        if ((flags & bit) != 0 &&
            std::find(names.begin(), names.end(), name(static_cast<core::Fault>(bit))) != names.end())
            return true;
    return false;
}

std::vector<FaultFigure> judge(const FaultLimits& limits, Truth truth, const Heard& heard,
                               const Heard* plain) {
    Timeline timeline = heard.timeline;
    if (limits.only) leave_out_the_other_side(*limits.only, truth, timeline);
    Figures figures;
    score(truth, timeline, figures);
    std::vector<FaultFigure> measures{
        {"dropouts", false, false, figures.dropouts, limits.most_dropouts},
        {"false shows", false, false, figures.false_shows, limits.most_false_shows},
        {"missed", false, false, figures.missed, limits.most_missed}};
    const auto time = [&](const char* what, TimeUs value_us, const std::optional<TimeUs>& limit_us) {
        if (limit_us) measures.push_back({what, true, false, value_us, *limit_us});
    };
    time("release", longest(figures.release_us), limits.longest_release_us);
    time("overlap", longest(figures.overlap_us), limits.longest_overlap_us);
    time("acquire", longest(figures.acquire_us), limits.longest_acquire_us);
    time("outage", longest_outage_us(truth, timeline), limits.longest_outage_us);
    for (const Indication show : limits.never_show)
        measures.push_back(
            {"shown " + std::string(name(show)), true, false, shown_us(show, timeline, truth.end_us), 0});
    for (const std::string& flag : limits.must_flag)
        measures.push_back({flag + " not flagged", false, true, raised(heard.flags, {flag}) ? 0 : 1, 0});
    if (plain != nullptr)
        measures.push_back(
            {"answer hangs on the count", false, true, heard.timeline == plain->timeline ? 0 : 1, 0});
    return measures;
}

} // namespace winkhold::measure
