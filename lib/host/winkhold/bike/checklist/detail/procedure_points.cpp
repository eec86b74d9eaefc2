// The bench procedure: press this, that must happen within so many ms.
#include "winkhold/bike/checklist/detail/points.hpp"
#include "winkhold/bike/checklist/detail/reaction.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace winkhold::bike {
namespace {

using core::Job;
using core::Lines;

/// What the taps' way through the front end adds until they read lit, and until they read dark, for engine
/// off to engine running: 9 to 16 V. Unit: us.
struct Delays {
    Range lit_us;
    Range dark_us;
};

std::uint8_t bit_of(TappedLine line) {
    switch (line) {
    case TappedLine::left:
        return Lines::left;
    case TappedLine::right:
        return Lines::right;
    case TappedLine::brake:
    case TappedLine::second_brake:
        return Lines::brake;
    case TappedLine::tail:
        return Lines::tail;
    default:
        return Lines::supply;
    }
}

/// Of the lines that a movement changes, a mask of Lines.
std::optional<Delays> delays_of(const BikeFacts& bike, std::uint8_t changed) {
    if (!bike.front_end_figures) return {};
    std::optional<Delays> all;
    const auto widen = [](Range& range, const Range& one) {
        range.least = std::min(range.least, one.least);
        range.most = std::max(range.most, one.most);
    };
    for (const TapFigures& tap : bike.front_end_figures->taps) {
        if ((bit_of(tap.line) & changed) == 0) continue;
        for (const EdgeFigures& edge : tap.edges) {
            if (edge.line_v < 9) continue;
            const Delays one{edge.lit_us(tap.active_low), edge.dark_us(tap.active_low)};
            if (!all) all = one;
            widen(all->lit_us, one.lit_us);
            widen(all->dark_us, one.dark_us);
        }
    }
    if (!all || !std::isfinite(all->lit_us.most) || !std::isfinite(all->dark_us.most)) return {};
    return all;
}

class Procedure {
public:
    Procedure(const BikeFacts& bike, Points& points)
        : bike_(bike),
          points_(points), bench_{bike.decoder, bike.plan, 60e6 / std::max(bike.rate_per_min, 1.0),
                                  bike.duty_percent / 100, has_tap(bike.wiring, "supply")} {}

    /// `by_flasher`: the times hang on the flasher's rhythm too.
    void add(const std::string& id, const std::string& task, const Act& act, bool by_flasher) {
        const auto changed = static_cast<std::uint8_t>((act.sides_before ^ act.sides_after) |
                                                       (act.taps_before ^ act.taps_after));
        const std::optional<Delays> delays = delays_of(bike_, changed);
        std::string missing;
        if (!bike_.why_no_play.empty())
            missing = bike_.why_no_play;
        else if (!delays)
            missing = front_end_missing;
        else if (!bike_.front_end->sample_us)
            missing = "sample in [front_end]";
        if (by_flasher && !bike_.why_no_rate.empty())
            missing = missing.empty() ? bike_.why_no_rate : fmt::format("{}; {}", missing, bike_.why_no_rate);
        std::optional<Range> ms;
        if (missing.empty()) {
            ms = expected_ms(act, *delays);
            if (!ms) missing = "lamps that answer to this: they stay dark in simulation";
        }
        std::string source = "[decoder], [front_end] and [[lamps]] in simulation, clock 1 % off, derived";
        if (ms && act.watched.job == Job::stop && act.until == Act::Until::lit)
            hold_to_limit(*ms, source, missing);
        const bool is_known = missing.empty();
        points_.within(Stage::bench, id, task, "ms", is_known ? rounded(ms->least, std::floor) : std::nullopt,
                       is_known ? rounded(ms->most, std::ceil) : std::nullopt, source, missing);
    }

private:
    /// Stop lamps that may answer later than their limit are not let pass by a slow front end.
    void hold_to_limit(Range& ms, std::string& source, std::string& missing) const {
        if (!bike_.stop_lamp_ms || ms.most <= *bike_.stop_lamp_ms) return;
        if (ms.least > *bike_.stop_lamp_ms) {
            missing = fmt::format("stop lamps that answer within {:g} ms: these take {:.3g} ms at least",
                                  *bike_.stop_lamp_ms, ms.least);
            return;
        }
        ms.most = *bike_.stop_lamp_ms;
        source += "; up to the limit stop-lamp-delay: common practice, no source";
    }

    std::optional<Range> expected_ms(const Act& act, const Delays& delays) const {
        const std::optional<Range> us = reaction_us(bench_, act);
        if (!us) return {};
        const Range& line_us = act.until == Act::Until::lit ? delays.lit_us : delays.dark_us;
        return Range{(0.99 * us->least + line_us.least) / 1e3, (1.01 * us->most + line_us.most) / 1e3};
    }

    const BikeFacts& bike_;
    Points& points_;
    Bench bench_;
};

} // namespace

void add_procedure(const BikeFacts& bike, Points& points) {
    using Until = Act::Until;
    const Lamps& lamps = bike.plan.lamps;
    Procedure procedure(bike, points);
    const bool has_turn = has_job(lamps, Job::turn);
    const bool has_stop = has_job(lamps, Job::stop);
    const std::uint8_t left = Lines::left, right = Lines::right, both = Lines::left | Lines::right;
    const auto lit = [&](Job job, std::uint8_t sides) { return Watched{job, sides}; };
    if (has_turn) {
        procedure.add("bench-left-first-ms", "Left: from the tap to the first of its lamps.",
                      {0, 0, left, 0, Until::lit, lit(Job::turn, left)}, false);
        procedure.add("bench-right-first-ms", "Right: from the tap to the first of its lamps.",
                      {0, 0, right, 0, Until::lit, lit(Job::turn, right)}, false);
        procedure.add("bench-hazard-first-ms", "Hazard: from the taps to lamps of both sides.",
                      {0, 0, both, 0, Until::lit, lit(Job::turn, both)}, false);
        procedure.add("bench-left-off-ms",
                      "Let go of left, the longest of ten: from the switch to the last of its light.",
                      {left, 0, 0, 0, Until::dark, lit(Job::turn, both)}, true);
        procedure.add("bench-right-off-ms",
                      "Let go of right, the longest of ten: from the switch to the last of its light.",
                      {right, 0, 0, 0, Until::dark, lit(Job::turn, both)}, true);
        procedure.add("bench-hazard-off-ms",
                      "Let go of hazard, the longest of ten: from the switch to the last light.",
                      {both, 0, 0, 0, Until::dark, lit(Job::turn, both)}, true);
        procedure.add("bench-hazard-in-left-ms",
                      "Hazard in a left turn, the longest of ten: from the switch to lamps of both sides.",
                      {left, 0, both, 0, Until::lit, lit(Job::turn, both)}, true);
        procedure.add("bench-left-in-hazard-ms",
                      "Hazard off with left still on, the longest of ten: from the switch to the last light "
                      "on the right.",
                      {both, 0, left, 0, Until::dark, lit(Job::turn, right)}, true);
    }
    if (has_stop && has_tap(bike.wiring, "brake")) {
        const Watched stop = lit(Job::stop, both);
        procedure.add("bench-brake-ms", "Brake by itself: from the tap to all stop lamps.",
                      {0, 0, 0, Lines::brake, Until::lit, stop}, false);
        procedure.add("bench-brake-off-ms", "Let go of the brake: from the tap until they are dark.",
                      {0, Lines::brake, 0, 0, Until::dark, stop}, false);
        procedure.add("bench-brake-in-left-ms",
                      "Brake in a left turn, the longest of ten: from the tap to all stop lamps.",
                      {left, 0, left, Lines::brake, Until::lit, stop}, true);
        procedure.add("bench-brake-in-hazard-ms",
                      "Brake in a hazard, the longest of ten: from the tap to all stop lamps.",
                      {both, 0, both, Lines::brake, Until::lit, stop}, true);
    }
    if (has_job(lamps, Job::tail) && has_tap(bike.wiring, "tail"))
        procedure.add("bench-lights-on-ms", "Lights on: from the tap to the tail lamps.",
                      {0, 0, 0, Lines::tail, Until::lit, lit(Job::tail, both)}, false);
    if (has_turn)
        procedure.add(
            "bench-key-off-ms",
            "Key off in a left turn, all taps at once, the longest of ten: until the last turn lamp is dark.",
            {left, Lines::tail, 0, 0, Until::dark, lit(Job::turn, both), true}, true);
}

} // namespace winkhold::bike
