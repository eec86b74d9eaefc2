// One ride of a soak, to look into a finding.
#include "winkhold/base/detail/numbers.hpp"
#include "winkhold/base/joined.hpp"
#include "winkhold/base/names.hpp"
#include "winkhold/base/text/detail/wrapped.hpp"
#include "winkhold/measure/soak/report.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace winkhold::measure {
namespace {

std::string imperfect(const std::vector<SoakAxis>& axes) {
    std::vector<std::string_view> names;
    for (const SoakAxis axis : axes)
        names.push_back(soak_axes[static_cast<std::size_t>(axis)]);
    return names.empty() ? "" : fmt::format("; lines: {}", joined(names, ", "));
}

std::string drawn(const SoakRun& run) {
    const Scenario& scenario = run.soak.scenario;
    return wrapped(
        "", "",
        fmt::format("lit {:.1f} ms, dark {:.1f} ms, jitter {:.1f} %, {}, tip {}; "
                    "transit {:.1f} ms, rise skew to {:.1f} ms, fall skew to {:.1f} ms, bounce {:.1f} ms, "
                    "input filter {:.1f} ms",
                    ms(run.ride.bike.on_us), ms(run.ride.bike.dark_us), scenario.flasher.jitter_percent,
                    name(scenario.flasher.side_change), scenario.flasher.tip_flashes,
                    ms(scenario.rider.transit_us.least), ms(scenario.contacts.rise_skew_us.most),
                    ms(scenario.contacts.fall_skew_us.most),
                    ms(static_cast<double>(scenario.contacts.bounce_us)),
                    run.soak.filtered ? ms(static_cast<double>(scenario.volts.filter_tau_us)) : 0) +
            imperfect(run.soak.axes));
}

/// As it may be pasted into a shell.
std::string options(const core::Settings& s) {
    const auto on = [](bool is) { return is ? "on" : "off"; };
    const auto window = [](std::uint32_t us) {
        return us == 0 ? std::string("off") : fmt::format("{}us", us);
    };
    return fmt::format("--settle {}us --pwm-gap {}us --hold {}us --hold-rule {} \\\n"
                       "  --guard {}us --gap-prior {}us --spread {} --handover {} \\\n"
                       "  --fall-window {} --cut-short {} --cut-margin {}us \\\n"
                       "  --supply-gone {}\n",
                       s.settle_us, s.pwm_gap_us, s.hold_us, name(s.rule), s.guard_us, s.gap_prior_us,
                       on(s.spread), window(s.handover_us), window(s.fall_window_us), on(s.cut_short),
                       s.cut_margin_us, window(s.supply_gone_us));
}

} // namespace

std::string soak_ride_text(const SoakPlan& plan, std::int64_t ride, const SoakRun& run) {
    std::string out = fmt::format("Ride {}, seed {}, {}\n{}{}\n{:>12}\n", ride, plan.seed,
                                  soak_populations[static_cast<std::size_t>(run.soak.population)], drawn(run),
                                  options(run.soak.scenario.decoder), "ms");
    struct Line {
        TimeUs t_us;
        std::string text;
    };
    std::vector<Line> lines;
    for (const Request& request : run.ride.truth.requests) {
        lines.push_back({request.start_us, fmt::format("asked for {}", name(request.show))});
        lines.push_back({request.end_us, fmt::format("no more, after {} flashes", request.flashes)});
    }
    for (const IndicationChange& change : run.timeline)
        lines.push_back({change.t_us, fmt::format("    shows {}", name(change.indication))});
    for (const SoakFinding& finding : run.verdict.findings)
        lines.push_back(
            {finding.t_us,
             fmt::format(
                 "        {} {}: {}{}", finding.kind == SoakKind::late_overlap ? "" : name(finding.side),
                 soak_kinds[static_cast<std::size_t>(finding.kind)],
                 soak_causes[static_cast<std::size_t>(finding.cause)].name,
                 finding.value_us > 0 ? fmt::format(" ({:.3f} ms)", ms(static_cast<double>(finding.value_us)))
                                      : "")});
    std::stable_sort(lines.begin(), lines.end(),
                     [](const Line& a, const Line& b) { return a.t_us < b.t_us; });
    for (const Line& line : lines)
        out += fmt::format("{:>12.3f}  {}\n", ms(static_cast<double>(line.t_us)), line.text);
    return out;
}

} // namespace winkhold::measure
