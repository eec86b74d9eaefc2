#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/text/detail/strip.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/taps/verify/report.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::taps {
namespace {

using core::Side;

constexpr std::size_t label_columns = 15;
constexpr std::size_t columns = text_columns - label_columns - 1;

double seconds(TimeUs us) {
    return static_cast<double>(us) / 1e6;
}

std::string change(const std::optional<IndicationChange>& change) {
    return change ? fmt::format("{} at {:.6f} s", name(change->indication), seconds(change->t_us)) : "none";
}

/// A stretch of time to draw; strips count from its start, so that they resolve it however late it is.
struct Window {
    TimeUs from_us;
    TimeUs to_us;

    /// `level(t_us, feed)` calls feed(t_us, high) for each change.
    template <class Levels>
    std::string draw(Levels&& levels) const {
        Strip strip;
        levels([&](TimeUs t_us, bool high) {
            if (t_us < to_us) strip.level(std::max<TimeUs>(0, t_us - from_us), high);
        });
        return strip.draw(0, to_us - from_us, columns);
    }
};

/// A difference of milliseconds is drawn larger than one of seconds.
Window window_around(const Difference& difference, TimeUs end_us) {
    constexpr TimeUs widest_us = 1'000'000;
    TimeUs half_us = widest_us;
    if (difference.kind == Difference::Kind::early || difference.kind == Difference::Kind::late)
        half_us = std::clamp(8 * std::abs(difference.got->t_us - difference.expected->t_us), TimeUs{99'000},
                             widest_us);
    const TimeUs t_us = difference.t_us();
    return {std::max<TimeUs>(0, t_us - half_us), std::max(t_us + 1'000, std::min(end_us, t_us + half_us))};
}

} // namespace

std::string what_is_wrong(const CaseResult& result) {
    if (result.outcome == Outcome::refused) return legible(result.complaint);
    if (!result.difference) return {};
    const Difference& difference = *result.difference;
    return fmt::format("{}: expected {}, got {}", name(difference.kind), change(difference.expected),
                       change(difference.got));
}

std::string strips_around_difference(const CaseResult& result) {
    if (!result.difference) return {};
    const Window window = window_around(*result.difference, result.trace.end_us);
    std::string out;
    const auto strip = [&](const char* label, auto&& levels) {
        out += fmt::format("{:>{}} {}\n", label, label_columns, window.draw(levels));
    };
    const auto tap = [&](core::Lines::Tap tap) {
        return [&, tap](auto&& feed) {
            for (const Edge& edge : result.trace.edges)
                feed(edge.t_us, edge.lines.has(tap));
        };
    };
    const auto shown = [](const Timeline& timeline, Side side) {
        return [&timeline, side](auto&& feed) {
            for (const IndicationChange& change : timeline)
                feed(change.t_us, core::shows(change.indication, side));
        };
    };
    strip("line left", tap(core::Lines::left));
    strip("right", tap(core::Lines::right));
    if (std::any_of(result.trace.edges.begin(), result.trace.edges.end(),
                    [](const Edge& edge) { return edge.lines.has(core::Lines::supply); }))
        strip("supply", tap(core::Lines::supply));
    strip("expected left", shown(*result.read.expected, Side::left));
    strip("right", shown(*result.read.expected, Side::right));
    strip("got left", shown(result.answer, Side::left));
    strip("right", shown(result.answer, Side::right));
    const TimeUs length_us = window.to_us - window.from_us;
    const auto mark = static_cast<std::size_t>((result.difference->t_us() - window.from_us) *
                                               static_cast<TimeUs>(columns) / length_us);
    const std::string moment = fmt::format("{:.6f} s", seconds(result.difference->t_us()));
    if (mark + 2 + moment.size() <= columns)
        out += fmt::format("{:>{}}^ {}\n", "", label_columns + 1 + mark, moment);
    else
        out += fmt::format("{:>{}} ^\n", moment, label_columns + mark);
    out += wrapped(std::string(label_columns + 1, ' '), std::string(label_columns + 1, ' '),
                   fmt::format("{:.3f} s to {:.3f} s: # high, _ low, + both, {:.3g} ms each",
                               seconds(window.from_us), seconds(window.to_us),
                               seconds(length_us) * 1e3 / columns));
    return out;
}

std::string verify_text(const VerifyRun& run) {
    std::string out;
    for (const CaseResult& result : run.results) {
        const std::string lead(9, ' ');
        out += wrapped(fmt::format("{:<8} ", name(result.outcome)), lead, legible(result.found.name));
        if (result.outcome == Outcome::passed) continue;
        out += wrapped(lead, lead, what_is_wrong(result));
        if (!result.read.provenance.reason.empty())
            out += wrapped(lead + "kept for: ", lead, legible(result.read.provenance.reason));
        out += strips_around_difference(result);
    }
    return out + fmt::format("\n{} case{}: {} as expected, {} different, {} refused\n", run.results.size(),
                             run.results.size() == 1 ? "" : "s", run.count(Outcome::passed),
                             run.count(Outcome::differs), run.count(Outcome::refused));
}

} // namespace winkhold::taps
