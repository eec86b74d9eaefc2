// Strips of one stretch, one under the other, and what each answer is worth.
#include "winkhold/base/detail/legible.hpp"
#include "winkhold/base/statistics/summary.hpp"
#include "winkhold/base/text/caution.hpp"
#include "winkhold/base/text/detail/strip.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/measure/score/beside.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::measure {
namespace {

constexpr std::size_t columns = 66;

double ms_of(double us) {
    return us / 1e3;
}

/// Both sides from `from_us` to `to_us`; `told(level)` calls level(t_us, left, right) for each change.
template <class Told>
std::string strips(const char* of, TimeUs from_us, TimeUs to_us, Told&& told) {
    Strip left;
    Strip right;
    told([&](TimeUs t_us, bool is_left, bool is_right) {
        if (t_us >= to_us) return;
        left.level(std::max<TimeUs>(0, t_us - from_us), is_left);
        right.level(std::max<TimeUs>(0, t_us - from_us), is_right);
    });
    return fmt::format("{:>12} {}\n{:>12} {}\n", fmt::format("{} left", of),
                       left.draw(0, to_us - from_us, columns), fmt::format("{} right", of),
                       right.draw(0, to_us - from_us, columns));
}

struct Costs {
    std::int64_t dropouts;
    double overlap_ms; ///< the longest
    double release_ms; ///< on average
};

Costs costs_of(const Figures& figures) {
    const auto longest = std::max_element(figures.overlap_us.begin(), figures.overlap_us.end());
    return {figures.dropouts, longest == figures.overlap_us.end() ? 0 : ms_of(static_cast<double>(*longest)),
            ms_of(summarise(figures.release_us).mean_us)};
}

std::string capital(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z') text.front() -= 'a' - 'A';
    return text;
}

const char* verdict(const Costs& costs) {
    const bool flickers = costs.dropouts > 0;
    const bool overlaps = costs.overlap_ms > 0;
    if (flickers && overlaps) return "flickers, and shows both sides after a side change";
    if (flickers) return "flickers: it goes out while it is asked for";
    if (overlaps) return "overlaps: it shows both sides after a side change";
    return "neither flickers nor overlaps";
}

/// The first one in full, the others in the same order.
std::string figures_of(const BesideAnswer& answer, bool in_full) {
    const Costs costs = costs_of(answer.figures);
    if (!in_full)
        return fmt::format("{}: {} times, {:.0f} ms, {:.0f} ms", answer.label, costs.dropouts,
                           costs.overlap_ms, costs.release_ms);
    return fmt::format(
        "{} goes out {} times while it is asked for, shows both sides for {:.0f} ms after a side "
        "change and lets go {:.0f} ms after the last light",
        answer.label, costs.dropouts, costs.overlap_ms, costs.release_ms);
}

} // namespace

std::string beside_text(const Beside& beside, const std::string& title) {
    const TimeUs from_us = beside.from_us;
    const TimeUs to_us = beside.to_us;
    const auto seconds = [](TimeUs us) { return static_cast<double>(us) / 1e6; };
    std::string text = wrapped(
        "", "  ", fmt::format("{}: {:.3f} s to {:.3f} s", legible(title), seconds(from_us), seconds(to_us)));
    text += "\nWhat the taps say\n";
    text += strips("line", from_us, to_us, [&](auto&& level) {
        for (const Edge& edge : beside.trace.edges)
            level(edge.t_us, edge.lines.has(core::Side::left), edge.lines.has(core::Side::right));
    });
    for (const BesideAnswer& answer : beside.answers) {
        text += "\n";
        text +=
            wrapped("", "  ", fmt::format("{} {}", capital(answer.label), verdict(costs_of(answer.figures))));
        text += strips("shown", from_us, to_us, [&](auto&& level) {
            for (const IndicationChange& change : answer.timeline)
                level(change.t_us, core::shows(change.indication, core::Side::left),
                      core::shows(change.indication, core::Side::right));
        });
    }
    text += fmt::format("{:>12} # high  _ low  + both within one character, {:.3g} ms each\n\n", "",
                        ms_of(static_cast<double>(to_us - from_us)) / static_cast<double>(columns));
    std::vector<std::string> figures;
    for (const BesideAnswer& answer : beside.answers)
        figures.push_back(figures_of(answer, figures.empty()));
    text +=
        wrapped("", "", fmt::format("Over all {} flashes, {}.", beside.flashes, fmt::join(figures, "; ")));
    text += "\n";
    text += caution;
    return text;
}

} // namespace winkhold::measure
